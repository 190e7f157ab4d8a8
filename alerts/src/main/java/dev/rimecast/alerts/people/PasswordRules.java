package dev.rimecast.alerts.people;

import com.nulabinc.zxcvbn.Zxcvbn;
import java.text.Normalizer;
import java.util.List;
import java.util.Optional;

/**
 * What a password must be, as NIST SP 800-63B has it: long, and not one that everybody tries. No rules of composition
 * and no end by age.
 */
final class PasswordRules {
    static final int SHORTEST = 12;
    /** Longer than anybody types; bounds the work of judging it. */
    static final int LONGEST = 128;
    /**
     * A password that a list of common ones, repetition, sequences and the product's and person's own names give away
     * within so many guesses is refused. The throttle allows far fewer in a year from one address.
     */
    private static final double GUESSES = 1e6;

    private static final List<String> EXPECTED = List.of("rimecast", "icemachine", "ice machine", "refrigeration");

    private final Zxcvbn meter = new Zxcvbn();

    /** The same characters, however they were typed. */
    static String normal(String password) {
        return Normalizer.normalize(password, Normalizer.Form.NFKC);
    }

    /** What is wrong with a new password, in words for who chooses it. */
    Optional<String> problem(String password, String accountName) {
        String normal = normal(password);
        int length = normal.codePointCount(0, normal.length());
        if (length < SHORTEST) {
            return Optional.of("a password needs at least " + SHORTEST + " characters, this has " + length);
        }
        if (length > LONGEST) {
            return Optional.of("a password has at most " + LONGEST + " characters, this has " + length);
        }
        List<String> expected = java.util.stream.Stream.concat(
                        EXPECTED.stream(), java.util.stream.Stream.of(accountName))
                .toList();
        return meter.measure(normal, expected).getGuesses() < GUESSES
                ? Optional.of("this password is among the first that are tried: take one that nobody would expect")
                : Optional.empty();
    }
}
