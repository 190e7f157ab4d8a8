package dev.rimecast.analytics.state;

/** The first bytes of every state: what it is and which layout it has. */
public enum StateVersion {
    SITE('S', 3),
    MACHINE('M', 7),
    POLICY('P', 1);

    private final int tag;
    private final int version;

    StateVersion(char tag, int version) {
        this.tag = tag;
        this.version = version;
    }

    public void write(StateWriter out) {
        out.u8(tag).u8(version);
    }

    /** @throws IllegalStateException if the bytes are something else or of another layout */
    public void require(StateReader in) {
        int foundTag = in.u8();
        int foundVersion = in.u8();
        if (foundTag != tag || foundVersion != version) {
            throw new IllegalStateException("expected a state of kind " + (char) tag + " version " + version
                    + ", found kind " + (char) foundTag + " version " + foundVersion);
        }
    }
}
