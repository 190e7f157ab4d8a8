package dev.rimecast.ingest.ack;

import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** What each gateway is to be told last, one entry a gateway. Any thread. */
public final class LastAcks {
    private final Map<String, PackNumber> byGateway = new ConcurrentHashMap<>();

    /** Takes note; within a boot it only grows, so that what is read again after a break of ours takes nothing back. */
    public void note(GatewayAck ack) {
        byGateway.merge(
                ack.gateway(),
                ack.upTo(),
                (known, next) -> known.boot().equals(next.boot()) && known.seq() > next.seq() ? known : next);
    }

    public Optional<PackNumber> of(String gateway) {
        return Optional.ofNullable(byGateway.get(gateway));
    }
}
