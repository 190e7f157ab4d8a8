package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.ack.AckOutlet;
import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.telemetry.ack.GatewayAck;
import java.util.HashMap;
import java.util.Map;

/** Which connection listens for which gateway's acknowledgements; the one that asked last. Lives on the event loop. */
final class AckBoard {
    private final LastAcks last;
    private final Map<String, AckOutlet> listening = new HashMap<>();

    AckBoard(LastAcks last) {
        this.last = last;
    }

    /** From now on the gateway is told here, at once what is known already. */
    void listen(String gateway, AckOutlet outlet) {
        listening.put(gateway, outlet);
        last.of(gateway).ifPresent(outlet::tell);
    }

    void leave(String gateway, AckOutlet outlet) {
        listening.remove(gateway, outlet);
    }

    void tell(GatewayAck ack) {
        AckOutlet outlet = listening.get(ack.gateway());
        if (outlet != null) {
            outlet.tell(ack.upTo());
        }
    }
}
