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
import java.util.Optional;
import java.util.UUID;

/**
 * Gives keys to gateways and takes them back. A secret is shown once, and only its digest is kept. As soon as a gateway has a key it is
 * let in by one and by nothing else; that stays so when all of them are taken back.
 */
public final class GatewayDesk {
    /** Longest that an old secret holds beside the new one. */
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
        try {
            X509Certificate certificate = (X509Certificate) CertificateFactory.getInstance("X.509")
                    .generateCertificate(new ByteArrayInputStream(pem.getBytes(StandardCharsets.UTF_8)));
            Instant end = certificate.getNotAfter().toInstant();
            if (!end.isAfter(wall.instant())) {
                return new Answer.Refused<>("the certificate has ended at " + end);
            }
            return add(by, gateway, Kind.CERTIFICATE, GatewayKey.digest(certificate.getEncoded()), Optional.empty());
        } catch (CertificateException e) {
            return new Answer.Refused<>("that is no X.509 certificate in PEM; give the gateway's own, not its key");
        }
    }

    private Answer<Made> add(String by, String gateway, Kind kind, String digest, Optional<String> secret) {
        if (!Ids.isLegal(gateway)) {
            return new Answer.Refused<>("'" + gateway
                    + "' can't be a gateway: identifiers have a-z, 0-9, dot, underscore and dash, at most 63");
        }
        if (store.isOfAnother(gateway, digest)) {
            return new Answer.Refused<>("another gateway has this certificate: each needs one of its own");
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
        if (grace.isNegative() || grace.compareTo(LONGEST_GRACE) > 0) {
            return new Answer.Refused<>("the old secret can hold for 0 to " + LONGEST_GRACE.toHours() + " hours");
        }
        String secret = Secret.make();
        Instant now = now();
        List<GatewayCredential> changed = store.change(gateway, keys -> {
            List<GatewayCredential> old = keys.stream()
                    .filter(one -> one.holdsAt(now) && one.key().kind() == Kind.SECRET)
                    .toList();
            List<GatewayCredential> next = new ArrayList<>();
            if (!old.isEmpty()) {
                next.add(made(by, gateway, Kind.SECRET, GatewayKey.digest(secret), now));
                old.forEach(one -> next.add(ending(one, now.plus(grace), now, by)));
            }
            return next;
        });
        return changed.isEmpty()
                ? new Answer.NotFound<>()
                : new Answer.Done<>(new Made(changed.get(0), Optional.of(secret)));
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

    private Instant now() {
        return wall.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
