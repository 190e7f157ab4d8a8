package dev.rimecast.ingest.mqtt;

import java.util.Optional;
import java.util.function.Predicate;

/**
 * Which gateway a connection speaks for. One that has shown a key speaks for the gateway of that key and no other. One that
 * has shown none, which only this machine and a broker can bring, becomes the first gateway that it names (its will, a subscription or a
 * message), if that one has no keys: one connection, one gateway.
 */
public final class Identity {
    private final Predicate<String> mayBecome;
    private Optional<String> gateway = Optional.empty();

    private Identity(Predicate<String> mayBecome) {
        this.mayBecome = mayBecome;
    }

    /** Of a connection that has shown its key. */
    static Identity of(String gateway) {
        Identity identity = new Identity(name -> false);
        identity.gateway = Optional.of(gateway);
        return identity;
    }

    /** Of a connection that has shown none. */
    static Identity unproved(Predicate<String> mayBecome) {
        return new Identity(mayBecome);
    }

    /** Whether the connection is this gateway, or is nobody yet and now becomes it. */
    boolean isOrBecomes(String name) {
        if (gateway.isEmpty() && mayBecome.test(name)) {
            gateway = Optional.of(name);
        }
        return gateway.equals(Optional.of(name));
    }

    Optional<String> gateway() {
        return gateway;
    }
}
