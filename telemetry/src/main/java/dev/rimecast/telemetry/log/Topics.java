package dev.rimecast.telemetry.log;

/** Names of the Kafka topics, as the contract has them. */
public final class Topics {
    public static final String SITES = "sites";
    public static final String REJECTS = "rejects";
    public static final String UNCLAIMED = "unclaimed";
    public static final String CYCLES = "cycles";
    public static final String FINDINGS = "findings";
    public static final String PROOFS = "proofs";
    public static final String ACKS = "acks";
    public static final String REGISTRY = "registry";
    /** By what each gateway shows that it is itself; compacted, by gateway. */
    public static final String CREDENTIALS = "credentials";

    public static final String POLICIES = "policies";
    public static final String ALERTS = "alerts";
    /** Records that analytics could not process, with the reason in headers. */
    public static final String DEAD_LETTERS = "dead-letters";

    /** Header of a finding: when the record of the site's log that decided it was stored there, ISO 8601. */
    public static final String RECORDED_AT_HEADER = "recorded-at";

    private Topics() {}
}
