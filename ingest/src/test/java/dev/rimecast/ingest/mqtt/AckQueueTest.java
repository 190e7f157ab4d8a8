package dev.rimecast.ingest.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** MQTT 5.0 section 4.6, [MQTT-4.6.0-2]: PUBACK in the order in which the PUBLISH packets came. */
class AckQueueTest {
    private final List<Integer> sent = new ArrayList<>();
    private final AckQueue queue = new AckQueue(receipt -> sent.add(receipt.packetId()));

    @Test
    void receipts_settledOutOfOrder_leaveInOrder() {
        AckQueue.Receipt first = queue.owe(11, false);
        AckQueue.Receipt second = queue.owe(12, false);
        AckQueue.Receipt third = queue.owe(13, false);

        queue.settle(third, ReceiptCode.TAKEN);
        queue.settle(second, ReceiptCode.TAKEN);
        assertThat(sent).isEmpty();
        assertThat(queue.size()).isEqualTo(3);

        queue.settle(first, ReceiptCode.TAKEN);
        assertThat(sent).containsExactly(11, 12, 13);
        assertThat(queue.size()).isZero();
    }

    @Test
    void receipt_behindOneThatIsNeverSettled_neverLeaves() {
        queue.owe(1, false);
        queue.settle(queue.owe(2, false), ReceiptCode.TAKEN);

        assertThat(sent).isEmpty();
    }

    @Test
    void receipts_settledInRandomOrder_leaveInOrderAndAll() {
        for (long seed = 1; seed <= 50; seed++) {
            sent.clear();
            List<AckQueue.Receipt> owed = new ArrayList<>(
                    IntStream.range(0, 100).mapToObj(i -> queue.owe(i, false)).toList());
            Collections.shuffle(owed, new Random(seed));
            owed.forEach(receipt -> queue.settle(receipt, ReceiptCode.TAKEN));

            assertThat(sent)
                    .as("seed %d", seed)
                    .isEqualTo(IntStream.range(0, 100).boxed().toList());
        }
    }
}
