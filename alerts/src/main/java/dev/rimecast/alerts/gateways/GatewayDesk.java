package dev.rimecast.alerts.gateways;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.gateway.GatewayKey.Kind;
import dev.rimecast.telemetry.machine.Ids;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.security.cert.CertificateException;
import java.security.cert.CertificateFactory;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * Gives keys to gateways and takes them back. A secret is shown once, and only its digest is kept. As soon as a gateway has a key it is
 * let in by one and by nothing else; that stays so when all of them are taken back.
 */
public final class GatewayDesk {
    /** Longest that an old key holds beside the new one. */
    public static final Duration LONGEST_GRACE = Duration.ofDays(31);

    private static final int MOST_KEYS = 10;

    private final GatewayStore store;
    private final InstantSource wall;

    public GatewayDesk(GatewayStore store, InstantSource wall) {
        this.store = store;
        this.wall = wall;
    }

    /** @param secret the key itself, which is nowhere else; empty for a certificate, which its owner has */
    public record Made(GatewayCredential credential, Optional<String> secret) {}

    /** Every key that there ever was, by gateway, the newest first. */
    public List<GatewayCredential> list() {
        return store.all();
    }

    /** A new secret, beside the keys that there are. */
    public Answer<Made> addSecret(String by, String gateway) {
        String secret = Secret.make();
        return add(by, gateway, Kind.SECRET, GatewayKey.digest(secret), Optional.of(secret));
    }

    /**
     * The certificate by which a gateway will show itself, beside the keys that there are. Nobody needs to have signed it.
     *
     * @param pem one certificate
     */
    public Answer<Made> addCertificate(String by, String gateway, String pem) {
        Answer<String> digest = digest(pem);
        return digest instanceof Answer.Done<String> known
                ? add(by, gateway, Kind.CERTIFICATE, known.value(), Optional.empty())
                : new Answer.Refused<>(((Answer.Refused<String>) digest).reason());
    }

    private Answer<String> digest(String pem) {
        try {
            X509Certificate certificate = (X509Certificate) CertificateFactory.getInstance("X.509")
                    .generateCertificate(new ByteArrayInputStream(pem.getBytes(StandardCharsets.UTF_8)));
            Instant end = certificate.getNotAfter().toInstant();
            return end.isAfter(wall.instant())
                    ? new Answer.Done<>(GatewayKey.digest(certificate.getEncoded()))
                    : new Answer.Refused<>("the certificate has ended at " + end);
        } catch (CertificateException e) {
            return new Answer.Refused<>("that is no X.509 certificate in PEM; give the gateway's own, not its key");
        }
    }

    private Answer<Made> add(String by, String gateway, Kind kind, String digest, Optional<String> secret) {
        Optional<String> wrong = wrong(gateway, digest);
        if (wrong.isPresent()) {
            return new Answer.Refused<>(wrong.get());
        }
        Instant now = now();
        List<GatewayCredential> changed = store.change(gateway, keys -> {
            boolean isThere =
                    keys.stream().anyMatch(one -> one.holdsAt(now) && one.key().is(kind, digest));
            long inForce = keys.stream().filter(one -> one.holdsAt(now)).count();
            return isThere || inForce >= MOST_KEYS ? List.of() : List.of(made(by, gateway, kind, digest, now));
        });
        return changed.isEmpty()
                ? new Answer.Refused<>("gateway " + gateway + " has this key already, or " + MOST_KEYS
                        + " keys in force: revoke some first")
                : new Answer.Done<>(new Made(changed.get(0), secret));
    }

    private Optional<String> wrong(String gateway, String digest) {
        if (!Ids.isLegal(gateway)) {
            return Optional.of("'" + gateway
                    + "' can't be a gateway: identifiers have a-z, 0-9, dot, underscore and dash, at most 63");
        }
        if (!Ids.isGateway(gateway)) {
            return Optional.of(
                    "'" + gateway + "' can't be a gateway: what comes from senders without a name stands under it");
        }
        return store.isOfAnother(gateway, digest)
                ? Optional.of("another gateway has this certificate: each needs one of its own")
                : Optional.empty();
    }

    private static GatewayCredential made(String by, String gateway, Kind kind, String digest, Instant now) {
        return new GatewayCredential(
                UUID.randomUUID(),
                gateway,
                new GatewayKey(kind, digest, Optional.empty()),
                now,
                by,
                Optional.empty(),
                Optional.empty());
    }

    /**
     * A new secret in place of those that there are, which end after {@code grace}: the time to bring it to the gateway.
     * Certificates stay.
     */
    public Answer<Made> rotate(String by, String gateway, Duration grace) {
        String secret = Secret.make();
        return rotate(by, gateway, grace, Kind.SECRET, GatewayKey.digest(secret), Optional.of(secret));
    }

    /**
     * A new certificate in place of those that there are, which end after {@code grace}: until then the gateway may show either. Secrets
     * stay.
     *
     * @param pem one certificate
     */
    public Answer<Made> rotateCertificate(String by, String gateway, String pem, Duration grace) {
        Answer<String> digest = digest(pem);
        return digest instanceof Answer.Done<String> known
                ? rotate(by, gateway, grace, Kind.CERTIFICATE, known.value(), Optional.empty())
                : new Answer.Refused<>(((Answer.Refused<String>) digest).reason());
    }

    private Answer<Made> rotate(
            String by, String gateway, Duration grace, Kind kind, String digest, Optional<String> secret) {
        if (grace.isNegative() || grace.compareTo(LONGEST_GRACE) > 0) {
            return new Answer.Refused<>("the old key can hold for 0 to " + LONGEST_GRACE.toHours() + " hours");
        }
        Optional<String> wrong = wrong(gateway, digest);
        if (wrong.isPresent()) {
            return new Answer.Refused<>(wrong.get());
        }
        Instant now = now();
        List<String> refused = new ArrayList<>(1);
        List<GatewayCredential> changed = store.change(gateway, keys -> {
            List<GatewayCredential> inForce =
                    keys.stream().filter(one -> one.holdsAt(now)).toList();
            List<GatewayCredential> old =
                    inForce.stream().filter(one -> one.key().kind() == kind).toList();
            if (old.stream().anyMatch(one -> one.key().is(kind, digest))) {
                refused.add("gateway " + gateway + " has this certificate already: give the new one");
                return List.of();
            }
            if (!grace.isZero() && inForce.size() >= MOST_KEYS) {
                refused.add("gateway " + gateway + " has " + MOST_KEYS + " keys in force: revoke some first");
                return List.of();
            }
            List<GatewayCredential> next = new ArrayList<>();
            if (!old.isEmpty()) {
                next.add(made(by, gateway, kind, digest, now));
                old.forEach(one -> next.add(ending(one, now.plus(grace), now, by)));
            }
            return next;
        });
        if (!changed.isEmpty()) {
            return new Answer.Done<>(new Made(changed.get(0), secret));
        }
        return refused.isEmpty() ? new Answer.NotFound<>() : new Answer.Refused<>(refused.get(0));
    }

    private static GatewayCredential ending(GatewayCredential one, Instant end, Instant now, String by) {
        boolean endsSooner = one.key().until().filter(end::isAfter).isPresent();
        if (endsSooner) {
            return one;
        }
        return end.isAfter(now) ? one.until(end) : one.ended(now, by);
    }

    /** Takes every key of a gateway back, at once. */
    public Answer<List<GatewayCredential>> revoke(String by, String gateway) {
        Instant now = now();
        List<GatewayCredential> ended = store.change(
                gateway,
                keys -> keys.stream()
                        .filter(one -> one.holdsAt(now))
                        .map(one -> one.ended(now, by))
                        .toList());
        return ended.isEmpty() ? new Answer.NotFound<>() : new Answer.Done<>(ended);
    }

    /**
     * Takes one key of a gateway back, at once; its others stay.
     *
     * @param fingerprint the beginning of its SHA-256, at least {@link GatewayCredential#FINGERPRINT_DIGITS} digits, with or without colons,
     *     in any case
     */
    public Answer<List<GatewayCredential>> revoke(String by, String gateway, String fingerprint) {
        String digits = fingerprint.replace(":", "").toLowerCase(Locale.ROOT);
        if (!digits.matches("[0-9a-f]{" + GatewayCredential.FINGERPRINT_DIGITS + ",64}")) {
            return new Answer.Refused<>("a fingerprint is the first " + GatewayCredential.FINGERPRINT_DIGITS
                    + " to 64 hexadecimal digits of a SHA-256, as the list of keys shows them");
        }
        Instant now = now();
        List<GatewayCredential> ended = store.change(
                gateway,
                keys -> keys.stream()
                        .filter(one -> one.holdsAt(now) && one.key().sha256().startsWith(digits))
                        .map(one -> one.ended(now, by))
                        .toList());
        return ended.isEmpty() ? new Answer.NotFound<>() : new Answer.Done<>(ended);
    }

    private Instant now() {
        return wall.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
