package dev.rimecast.alerts.silence;

/** What a silence is, as it is said to people. */
public enum Silence {
    /** One machine, while its gateway is heard. */
    MACHINE("Nothing is heard of this machine, while its gateway is: it has no power, or its cable is off."),
    /** Several machines of a site that went silent together, while their gateway is heard. */
    POWER("Several machines of the site went silent together, while the gateway is heard: their power is off."),
    /** A gateway, and so everything behind it. */
    GATEWAY(
            "Nothing is heard of the gateway, so nothing is known of the machines behind it: its link or its power is off."),
    /** At a time at which it is usually off. */
    CLOSING_TIME("It is usually off at this time."),
    /** The site said so. */
    CLOSED("The site is closed, as it said.");

    private final String words;

    Silence(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /**
     * Which one it is.
     *
     * @param ofGateway whether a gateway is silent
     * @param machinesTogether machines of its case that are silent
     */
    public static Silence of(boolean ofGateway, boolean closed, boolean usual, int machinesTogether) {
        if (closed) {
            return CLOSED;
        }
        if (usual) {
            return CLOSING_TIME;
        }
        if (ofGateway) {
            return GATEWAY;
        }
        return machinesTogether > 1 ? POWER : MACHINE;
    }
}
