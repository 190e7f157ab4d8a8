package dev.rimecast.alerts.people;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** Where second factors are kept. Each change is one transaction with its line in the audit. Safe for many threads. */
public interface FactorStore {

    /**
     * @param confirmedAt empty until a code has shown that the person's device has the secret
     * @param codesLeft recovery codes that were not used
     */
    record Factor(byte[] secret, Instant madeAt, Optional<Instant> confirmedAt, int codesLeft) {
        /** Without the secret. */
        @Override
        public String toString() {
            return "Factor[made " + madeAt + ", confirmed " + confirmedAt + ", " + codesLeft + " codes left]";
        }
    }

    Optional<Factor> factor(UUID account);

    /** Accounts with a confirmed one. */
    Set<UUID> confirmed();

    /** Keeps a secret that has to be confirmed, in place of an earlier one; false where there is a confirmed one. */
    boolean propose(UUID account, byte[] secret, Instant now);

    /**
     * Confirms the proposed secret and keeps the hashes of recovery codes.
     *
     * @param step the one whose code was shown; it is used up
     * @return false where there is nothing to confirm
     */
    boolean confirm(UUID account, long step, List<byte[]> codeHashes, AccountNote note);

    /** Uses up a step; false where it, or a later one, was used. */
    boolean use(UUID account, long step);

    /** Uses up a recovery code; false where there is none like it, or it was used. */
    boolean useCode(UUID account, byte[] codeHash, AccountNote note);

    /** Other recovery codes in place of all there were. */
    void renewCodes(UUID account, List<byte[]> codeHashes, AccountNote note);

    /** @return false where there was none that was confirmed */
    boolean remove(UUID account, AccountNote note);

    /** Ends the sessions of an account, but for {@code kept}. */
    void endSessions(UUID account, Optional<UUID> kept);
}
