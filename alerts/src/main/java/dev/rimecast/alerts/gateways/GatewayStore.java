package dev.rimecast.alerts.gateways;

import java.util.List;
import java.util.function.Function;

/** Where the keys of gateways are kept. */
public interface GatewayStore {
    /** Every key that there ever was, by gateway, the newest first. */
    List<GatewayCredential> all();

    /** Whether another gateway has this key in force. */
    boolean isOfAnother(String gateway, String sha256);

    /**
     * Changes the keys of one gateway, at once with what ingest is told. One change of a gateway waits for another.
     *
     * @param change given the keys as they are, returns those that are new or changed; none: nothing happens
     * @return what {@code change} returned
     */
    List<GatewayCredential> change(String gateway, Function<List<GatewayCredential>, List<GatewayCredential>> change);
}
