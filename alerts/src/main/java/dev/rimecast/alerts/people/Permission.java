package dev.rimecast.alerts.people;

import java.util.Locale;

/** What can be allowed. Which role allows what is in {@code roles.yaml}. */
public enum Permission {
    /** The list of machines with what is open, and nothing behind it. */
    SEE_FLEET,
    /** The fleet, machines, alerts, cases, holds, and what changes. */
    SEE,
    /** Say that an alert was seen. */
    ACKNOWLEDGE,
    /** Release a latched alert. */
    RESET,
    /** Put an alert aside for a while, and end that. */
    SHELVE,
    /** Take an alert or a machine out of service, and return it. */
    OUT_OF_SERVICE,
    /** Close a case that has only calls; put an alert into another case, or take it out of one. */
    CLOSE_CASE,
    /** Report calls, visits, cleanings and whatever else no probe can see. */
    REPORT,
    /** Write down work on a machine: what was found and done, and its commissioning. */
    REPORT_WORK,
    /** Accept, move and cancel visits, and make some by hand. */
    PLAN_VISITS,
    /** Send a notice again, or a test. */
    NOTIFY,
    /** Change the firm's rules: how urgent, which cases, what counts, what to do. */
    EDIT_RULES,
    /** Change the thresholds of detection, try others, and ask the past about them. */
    EDIT_THRESHOLDS,
    /** Make API tokens, with no more rights than one's own. */
    USE_TOKENS,
    /** Counters of the product, which are of all sites. */
    SEE_SYSTEM,
    /** Have a message that was rejected, or a record that could not be processed, taken again after a mend. */
    REPLAY_REJECTS,
    /** Fetch a backup, in which everything is. */
    BACK_UP,
    /** Give keys to gateways and take them back. */
    MANAGE_GATEWAYS,
    /** Put machines into the register while the product runs, and take those out again. */
    CLAIM_MACHINES,
    MANAGE_ACCOUNTS;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    public String code() {
        return code;
    }
}
