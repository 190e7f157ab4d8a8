package dev.rimecast.ingest.broker;

import dev.rimecast.ingest.mqtt.AckQueue;
import dev.rimecast.ingest.mqtt.ReceiptCode;
import java.util.Optional;
import java.util.function.IntConsumer;

/**
 * Acknowledgements that are owed to the broker. Each belongs to the connection on which its message came, its epoch: on
 * the next one the same packet id is another message, and acknowledging that would lose it. Within an epoch they leave
 * in the order in which the messages came [MQTT-4.6.0-2].
 *
 * <p>Not for use by several threads.
 */
final class Receipts {

    /** One acknowledgement that is owed. */
    record Owed(long epoch, AckQueue.Receipt receipt) {}

    private long epoch;
    private Optional<AckQueue> queue = Optional.empty();

    /**
     * A connection begins; those before it have ended.
     *
     * @param sender acknowledges a packet id on this connection
     * @return its epoch, never used before
     */
    long begin(IntConsumer sender) {
        queue = Optional.of(new AckQueue(receipt -> sender.accept(receipt.packetId())));
        return ++epoch;
    }

    /** The connection has ended: nothing that is owed can be sent any more. */
    void end() {
        queue = Optional.empty();
    }

    /** Of the connection that began last. */
    long now() {
        return epoch;
    }

    boolean isNow(long someEpoch) {
        return someEpoch == epoch && queue.isPresent();
    }

    /** A message has come on the connection that is up. */
    Owed owe(int packetId) {
        return new Owed(epoch, queue.orElseThrow().owe(packetId, false));
    }

    /**
     * What a message caused is stored. Its acknowledgement leaves as soon as those before it have.
     *
     * @return false if its connection is gone: the broker will send the message again
     */
    boolean settle(Owed owed) {
        if (!isNow(owed.epoch())) {
            return false;
        }
        queue.orElseThrow().settle(owed.receipt(), ReceiptCode.TAKEN);
        return true;
    }
}
