package dev.rimecast.ingest.mqtt;

import dev.rimecast.telemetry.gateway.GatewayKey;
import java.time.Instant;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Who may speak for which gateway, by the keys in force. A right key always gets in, however many wrong ones came from the same
 * address: many gateways stand behind one, and a secret of 256 random bits is not found by trying.
 */
public final class Gatekeeper {
    private final InstantSource clock;
    private volatile Optional<Keys> keys;

    private Gatekeeper(InstantSource clock, Optional<Keys> keys) {
        this.clock = clock;
        this.keys = keys;
    }

    /**
     * The keys in force.
     *
     * @param byCertificate gateway of each certificate's digest: ten thousand gateways that come back at once are looked up, not sought
     */
    private record Keys(Map<String, List<GatewayKey>> byGateway, Map<String, String> byCertificate) {
        static final Keys NONE = new Keys(Map.of(), Map.of());

        static Keys of(Map<String, List<GatewayKey>> byGateway) {
            Map<String, String> byCertificate = new HashMap<>();
            byGateway.forEach((gateway, all) -> all.stream()
                    .filter(key -> key.kind() == GatewayKey.Kind.CERTIFICATE)
                    .forEach(key -> byCertificate.put(key.sha256(), gateway)));
            return new Keys(Map.copyOf(byGateway), byCertificate);
        }
    }

    /** Nobody is let in before {@link #inForce} was called once. */
    public static Gatekeeper waiting(InstantSource clock) {
        return new Gatekeeper(clock, Optional.empty());
    }

    /** Of gateways that have no keys. */
    static Gatekeeper withoutKeys() {
        return new Gatekeeper(InstantSource.system(), Optional.of(Keys.NONE));
    }

    /**
     * What a connection shows.
     *
     * @param isEncrypted whether it came by TLS; if not, it came from this machine
     * @param user empty where none was given
     * @param password empty where none was given
     * @param certificate digest of the client's certificate, of whose private key the handshake was the proof
     */
    record Shown(boolean isEncrypted, Optional<String> user, Optional<String> password, Optional<String> certificate) {}

    /** What comes of it. */
    sealed interface Verdict {
        /** @param key what it was let in by; empty: nothing, from this machine */
        record LetIn(Identity identity, Optional<GatewayKey> key) implements Verdict {}

        /** @param why for the log; the client is not told */
        record Refused(String why) implements Verdict {}
    }

    /** The keys of all gateways that have any, or had; from now on. */
    public void inForce(Map<String, List<GatewayKey>> ofGateways) {
        keys = Optional.of(Keys.of(ofGateways));
    }

    /** Whether the keys are known. */
    public boolean isOpen() {
        return keys.isPresent();
    }

    Verdict judge(Shown shown) {
        Optional<String> user = shown.user().filter(name -> shown.isEncrypted() || hasKeys(name));
        if (user.isEmpty() && shown.certificate().isEmpty()) {
            return shown.isEncrypted()
                    ? new Verdict.Refused("it shows neither user and password nor a certificate")
                    : new Verdict.LetIn(Identity.unproved(name -> !hasKeys(name)), Optional.empty());
        }
        if (user.isPresent() && shown.password().isPresent()) {
            String digest = GatewayKey.digest(shown.password().get());
            return letIn(user.get(), GatewayKey.Kind.SECRET, digest)
                    .orElseGet(() -> refused("not the secret of gateway", user.get()));
        }
        if (shown.certificate().isPresent()) {
            String digest = shown.certificate().get();
            return letInByCertificate(user, digest)
                    .orElseGet(() -> new Verdict.Refused(
                            "its certificate, SHA-256 " + digest + ", is of no gateway, or of another"));
        }
        return refused("no password with gateway", user.get());
    }

    /**
     * Whether a message that a broker brings is let in for this gateway. No key of ours comes through a broker: a gateway that has, or
     * had, keys is let in only where the broker is known to look at who publishes on which topic, and while it has a key in force.
     *
     * @param trustsTopics whether the broker does
     */
    public boolean letsInBehindABroker(String gateway, boolean trustsTopics) {
        if (!hasKeys(gateway)) {
            return true;
        }
        Instant now = clock.instant();
        return trustsTopics
                && now().byGateway().getOrDefault(gateway, List.of()).stream().anyMatch(key -> key.isValidAt(now));
    }

    /** Who sent a message that a broker brought; the gateway of its topic, if it is let in so. */
    public Identity behindABroker(boolean trustsTopics) {
        return Identity.unproved(name -> letsInBehindABroker(name, trustsTopics));
    }

    private static Verdict refused(String why, String gateway) {
        return new Verdict.Refused(why + " '" + printable(gateway) + "'");
    }

    /** What a stranger sends is not to write lines into the log. */
    private static String printable(String name) {
        String start = name.substring(0, Math.min(64, name.length()));
        return start.chars().allMatch(c -> c > ' ' && c < 0x7f) ? start : "(not printable)";
    }

    private Optional<Verdict> letInByCertificate(Optional<String> user, String digest) {
        return user.or(() -> Optional.ofNullable(now().byCertificate().get(digest)))
                .flatMap(gateway -> letIn(gateway, GatewayKey.Kind.CERTIFICATE, digest));
    }

    private Optional<Verdict> letIn(String gateway, GatewayKey.Kind kind, String digest) {
        Instant now = clock.instant();
        return now().byGateway().getOrDefault(gateway, List.of()).stream()
                .filter(key -> key.is(kind, digest) && key.isValidAt(now))
                .<Verdict>map(key -> new Verdict.LetIn(Identity.of(gateway), Optional.of(key)))
                .findFirst();
    }

    /** Whether who was let in so would be let in now, too. */
    boolean isStillIn(Identity identity, Optional<GatewayKey> by) {
        Optional<String> gateway = identity.gateway();
        if (gateway.isEmpty()) {
            return true;
        }
        if (by.isEmpty()) {
            return !hasKeys(gateway.get());
        }
        Instant now = clock.instant();
        return now().byGateway().getOrDefault(gateway.get(), List.of()).stream()
                .anyMatch(key -> key.is(by.get().kind(), by.get().sha256()) && key.isValidAt(now));
    }

    /** Whether it has keys or had some: then it must show one, wherever it comes from. */
    private boolean hasKeys(String gateway) {
        return now().byGateway().containsKey(gateway);
    }

    private Keys now() {
        return keys.orElse(Keys.NONE);
    }
}
