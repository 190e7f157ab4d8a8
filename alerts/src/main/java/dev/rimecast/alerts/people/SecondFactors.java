package dev.rimecast.alerts.people;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * A second factor beside the password: six digits from a program on the person's device, or one of ten recovery codes. Each
 * works once (OWASP ASVS 5.0, 6.5.1). Guessing is slowed down apart from passwords: who gets here knows one.
 */
public final class SecondFactors {
    static final int RECOVERY_CODES = 10;
    /** 24 letters and digits of 32, so 120 bits: from 112 on a plain hash is enough (OWASP ASVS 5.0, 6.5.2). */
    private static final int CODE_BYTES = 15;
    /** How long a secret that was shown waits for its first code. */
    static final Duration TO_CONFIRM = Duration.ofMinutes(15);

    private static final String ISSUER = "Rimecast";
    private static final SecureRandom RANDOM = new SecureRandom();

    private final FactorStore store;
    private final FactorRule rule;
    private final Entrance entrance;
    private final InstantSource wall;
    private final Throttle throttle = Throttle.ofCodes();

    SecondFactors(FactorStore store, FactorRule rule, Entrance entrance, InstantSource wall) {
        this.store = store;
        this.rule = rule;
        this.entrance = entrance;
        this.wall = wall;
    }

    /**
     * How it stands with an account.
     *
     * @param isAsked whether the rule of this installation asks for one
     * @param since when it was confirmed; empty: there is none
     */
    public record Standing(boolean isAsked, Optional<Instant> since, int codesLeft) {}

    /** @param uri for an authenticator program; the secret is in it */
    public record Proposal(String secret, String uri) {}

    /** How a code was found. */
    public sealed interface Check {
        record Right() implements Check {}

        record Wrong() implements Check {}

        record Wait(Duration left) implements Check {}
    }

    public Standing standing(Account account) {
        Optional<FactorStore.Factor> factor = confirmed(account);
        return new Standing(
                rule.asks(account),
                factor.flatMap(FactorStore.Factor::confirmedAt),
                factor.map(FactorStore.Factor::codesLeft).orElse(0));
    }

    /** Accounts that have one. */
    public Set<UUID> confirmed() {
        return store.confirmed();
    }

    boolean has(Account account) {
        return confirmed(account).isPresent();
    }

    private Optional<FactorStore.Factor> confirmed(Account account) {
        return store.factor(account.id()).filter(factor -> factor.confirmedAt().isPresent());
    }

    /** Makes a secret for the account. The caller has checked the password. */
    Answer<Proposal> propose(Account account) {
        byte[] secret = new byte[Totp.SECRET_BYTES];
        RANDOM.nextBytes(secret);
        if (!store.propose(account.id(), secret, now())) {
            return new Answer.Refused<>("there is a second factor already: take it away first");
        }
        String text = Totp.base32(secret);
        String label = ISSUER + ':' + account.name();
        return new Answer.Done<>(new Proposal(
                text,
                "otpauth://totp/"
                        + URLEncoder.encode(label, StandardCharsets.UTF_8).replace("+", "%20") + "?secret="
                        + text + "&issuer=" + ISSUER + "&algorithm=SHA1&digits=" + Totp.DIGITS + "&period="
                        + Totp.STEP.toSeconds()));
    }

    /**
     * Takes the first code of the device: from here on the account needs codes. Ends its other sessions.
     *
     * @return recovery codes, which are nowhere else
     */
    public Answer<List<String>> confirm(Visitor by, String code) {
        Account account = by.account();
        Optional<FactorStore.Factor> proposed = store.factor(account.id())
                .filter(factor -> factor.confirmedAt().isEmpty()
                        && now().isBefore(factor.madeAt().plus(TO_CONFIRM)));
        if (proposed.isEmpty()) {
            return new Answer.Refused<>("nothing waits to be confirmed: begin again");
        }
        OptionalLong step = Totp.stepOf(proposed.get().secret(), digits(code), wall.instant());
        if (step.isEmpty()) {
            return new Answer.Refused<>(
                    "this is not the code of now: look whether the clock of the device is right, and enter the next one");
        }
        List<String> codes = recoveryCodes();
        if (!store.confirm(
                account.id(),
                step.getAsLong(),
                hashes(codes),
                entrance.note(account.name(), account.id(), "second factor added", ""))) {
            return new Answer.Refused<>("nothing waits to be confirmed: begin again");
        }
        store.endSessions(account.id(), by.session().map(Session::id));
        entrance.changed();
        return new Answer.Done<>(codes);
    }

    /** Looks at a code of the device or a recovery code, and uses it up. */
    Check check(Account account, String code, String address) {
        Duration wait = throttle.attempt(account.name(), address, wall.instant());
        if (!wait.isZero()) {
            return new Check.Wait(wait);
        }
        if (!uses(account, code)) {
            entrance.write(entrance.note(account.name(), account.id(), "second factor failed", "from " + address));
            return new Check.Wrong();
        }
        throttle.succeeded(account.name(), address);
        return new Check.Right();
    }

    private boolean uses(Account account, String code) {
        Optional<FactorStore.Factor> factor = confirmed(account);
        if (factor.isEmpty()) {
            return false;
        }
        OptionalLong step = Totp.stepOf(factor.get().secret(), digits(code), wall.instant());
        if (step.isPresent()) {
            return store.use(account.id(), step.getAsLong());
        }
        return store.useCode(
                account.id(),
                hash(code),
                entrance.note(
                        account.name(),
                        account.id(),
                        "recovery code used",
                        factor.get().codesLeft() - 1 + " left"));
    }

    /** Other recovery codes; the caller has checked password and code. */
    List<String> renewCodes(Account account) {
        List<String> codes = recoveryCodes();
        store.renewCodes(
                account.id(), hashes(codes), entrance.note(account.name(), account.id(), "recovery codes renewed", ""));
        return codes;
    }

    /** Takes one's own away; the caller has checked password and code. Ends the account's other sessions. */
    Answer<Account> removeOwn(Visitor by) {
        if (rule.asks(by.account())) {
            return new Answer.Refused<>("your account must have a second factor here");
        }
        return remove(by, by.account(), by.session().map(Session::id));
    }

    /** Takes somebody's away who has lost the device, and ends their sessions. */
    Answer<Account> removeOf(Visitor by, Account account) {
        if (by.account().id().equals(account.id())) {
            return new Answer.Refused<>("take your own away on the page of your account, which asks for a code");
        }
        return remove(by, account, Optional.empty());
    }

    private Answer<Account> remove(Visitor by, Account account, Optional<UUID> kept) {
        boolean removed = store.remove(
                account.id(), entrance.note(by.person().name(), account.id(), "second factor removed", account.name()));
        if (!removed) {
            return new Answer.Refused<>("there is no second factor");
        }
        store.endSessions(account.id(), kept);
        entrance.changed();
        return new Answer.Done<>(account);
    }

    private static List<String> recoveryCodes() {
        List<String> codes = new ArrayList<>();
        for (int i = 0; i < RECOVERY_CODES; i++) {
            byte[] random = new byte[CODE_BYTES];
            RANDOM.nextBytes(random);
            codes.add(Totp.base32(random).replaceAll("(.{4})(?=.)", "$1-"));
        }
        return codes;
    }

    private static List<byte[]> hashes(List<String> codes) {
        return Stream.of(codes.toArray(String[]::new)).map(SecondFactors::hash).toList();
    }

    /** Whatever stands between the letters, and whatever their case. */
    private static byte[] hash(String code) {
        return Secret.hash(code.replaceAll("[^A-Za-z0-9]", "").toUpperCase(Locale.ROOT));
    }

    /** Programs show two groups of three. */
    private static String digits(String code) {
        return code.replaceAll("\\s", "");
    }

    /** To the millisecond, as it is stored. */
    private Instant now() {
        return wall.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
