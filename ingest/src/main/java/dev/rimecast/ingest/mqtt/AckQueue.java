package dev.rimecast.ingest.mqtt;

import java.util.ArrayDeque;

/**
 * Receipts of one connection, in the order in which its messages came. Kafka answers for different partitions out of
 * order; receipts leave from the head only, so that they leave in the order of the messages [MQTT-4.6.0-2].
 *
 * <p>One per connection: a packet id means nothing on the next one. Not for use by several threads.
 */
public final class AckQueue {

    /** Sends one receipt. */
    public interface Sender {
        void send(Receipt receipt);
    }

    /** A receipt that is owed. */
    public static final class Receipt {
        private final int packetId;
        private final boolean exactlyOnce;
        private ReceiptCode code = ReceiptCode.TAKEN;
        private boolean due;

        private Receipt(int packetId, boolean exactlyOnce) {
            this.packetId = packetId;
            this.exactlyOnce = exactlyOnce;
        }

        public int packetId() {
            return packetId;
        }

        /** Whether the message came with QoS 2: its receipt is PUBREC, not PUBACK. */
        boolean isExactlyOnce() {
            return exactlyOnce;
        }

        ReceiptCode code() {
            return code;
        }
    }

    private final ArrayDeque<Receipt> owed = new ArrayDeque<>();
    private final Sender sender;

    public AckQueue(Sender sender) {
        this.sender = sender;
    }

    /** A message has come; its receipt is owed from now on. */
    public Receipt owe(int packetId, boolean exactlyOnce) {
        Receipt receipt = new Receipt(packetId, exactlyOnce);
        owed.addLast(receipt);
        return receipt;
    }

    /** What the message caused is stored. Sends this receipt and those behind it, as far as all before them are due. */
    public void settle(Receipt receipt, ReceiptCode code) {
        receipt.code = code;
        receipt.due = true;
        for (Receipt head = owed.peekFirst(); head != null && head.due; head = owed.peekFirst()) {
            owed.removeFirst();
            sender.send(head);
        }
    }

    /** Messages without a receipt so far. */
    public int size() {
        return owed.size();
    }
}
