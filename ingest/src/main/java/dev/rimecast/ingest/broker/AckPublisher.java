package dev.rimecast.ingest.broker;

import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.log.PackNumber;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Tells gateways behind the broker. Of each gateway only the newest waits, and {@value #UNDER_WAY} messages are under
 * way at most, so that neither memory nor the library's window is filled by a broker that is slow. One thread.
 */
final class AckPublisher {
    static final int UNDER_WAY = 50;

    /** Hands a message to the line that is up; {@code done} comes later, on the one thread, while it is the same line. */
    interface Sender {
        void publish(String topic, byte[] payload, Runnable done);
    }

    private final Map<String, PackNumber> waiting = new LinkedHashMap<>();
    private int underWay;

    void tell(String gateway, PackNumber upTo, Sender sender) {
        waiting.put(gateway, upTo);
        send(sender);
    }

    private void send(Sender sender) {
        Iterator<Map.Entry<String, PackNumber>> next = waiting.entrySet().iterator();
        while (underWay < UNDER_WAY && next.hasNext()) {
            Map.Entry<String, PackNumber> ack = next.next();
            next.remove();
            underWay++;
            sender.publish("fleet/" + ack.getKey() + "/ack", GatewayAckJson.payload(ack.getValue()), () -> {
                underWay--;
                send(sender);
            });
        }
    }

    /** The line is gone: gateways are told again when they are back. */
    void forget() {
        waiting.clear();
        underWay = 0;
    }
}
