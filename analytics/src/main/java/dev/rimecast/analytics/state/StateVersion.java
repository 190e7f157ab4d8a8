package dev.rimecast.analytics.state;

/** The first bytes of every state: what it is and which layout it has. */
public enum StateVersion {
    /** 4 has a ledger for each of a gateway's last boots, with what was given up; 5 the site's water, at the end; 6 its closed days; 7 what water sensors of its machines show. */
    SITE('S', 7, 3),
    /**
     * 9 has what its cycles say of the water, and how high its condensing temperature was at its limit; 10 how it does in its
     * first cycles, and what has gone through it since its care; 11 what it has shown of itself on quiet days, how its expectation
     * bends with the water, and its last drain signals; 12 no longer what stands apart in {@link #LEARNED}; 13 how often what is
     * open has come back; 14 when its condenser was last heard; 15 when it was descaled;
     * 16 the water between its cycles, and its fill; 17 how often a sensor or a cycle that was missed came back by itself, and the hours
     * in which it is silent; 18 for how long its plate has been frozen, and starts that ended at its limit; 19 harvests
     * that failed, and how far apart the readings were of a cycle that is over.
     */
    MACHINE('M', 19, 8),
    /**
     * A machine's row and what its cycles have taught; counted on from what {@link #MACHINE} had of it. 13 has how warm its harvests are; 14 the air out of doors in place of the room's, of a condenser that stands there; 15 nothing of a curve that there is not, and its cleaning; 16 how much of
     * what is unsure is beyond what it has shown; 17 whether its cycles are read as equally long.
     */
    LEARNED('L', 17, 12),
    /** 2 is packed. */
    POLICY('P', 2, 1);

    private final int tag;
    private final int version;
    private final int oldest;

    StateVersion(char tag, int version, int oldest) {
        this.tag = tag;
        this.version = version;
        this.oldest = oldest;
    }

    public void write(StateWriter out) {
        out.u8(tag).u8(version);
    }

    /**
     * Returns the version of the layout: one that this program can read.
     *
     * @throws IllegalStateException if the bytes are something else or of another layout
     */
    public int require(StateReader in) {
        int foundTag = in.u8();
        int foundVersion = in.u8();
        if (foundTag != tag || foundVersion > version || foundVersion < oldest) {
            throw new IllegalStateException("expected a state of kind " + (char) tag + " version " + version
                    + ", found kind " + (char) foundTag + " version " + foundVersion);
        }
        in.readAs(foundVersion);
        return foundVersion;
    }
}
