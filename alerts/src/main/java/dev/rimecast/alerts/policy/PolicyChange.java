package dev.rimecast.alerts.policy;

import java.time.Instant;
import java.util.Optional;

/**
 * A policy came into force. It stays as it is for ever; the next change is another.
 *
 * @param number counts from 1
 * @param version its name in the sites' logs
 * @param yaml its whole text
 * @param at when, by the product's clock
 * @param who as the audit names them
 * @param why never blank
 * @param restores the change whose text it took up again
 * @param trial the trial in which it was tried
 */
public record PolicyChange(
        int number,
        String version,
        String yaml,
        Source source,
        Instant at,
        String who,
        String why,
        Optional<Integer> restores,
        Optional<Integer> trial) {

    /** Where a policy comes from. */
    public enum Source {
        /** The policy of the product, where no file is named. */
        PRODUCT,
        /** The file that {@code fleet.policy} names. */
        FILE,
        /** Somebody changed it while the product ran. */
        PERSON
    }

    public PolicyChange {
        if (number < 1) {
            throw new IllegalArgumentException("number counts from 1, was " + number);
        }
        if (why.isBlank()) {
            throw new IllegalArgumentException("why is empty: a change of thresholds needs a reason");
        }
    }
}
