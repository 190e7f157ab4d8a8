package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** MQTT 5.0 section 4.6, [MQTT-4.6.0-2], and 2.2.1: a packet id belongs to its connection. */
class ReceiptsTest {
    private final Receipts receipts = new Receipts();
    private final List<Integer> first = new ArrayList<>();
    private final List<Integer> second = new ArrayList<>();

    @Test
    void settled_outOfOrder_leaveInOrder() {
        receipts.begin(first::add);
        Receipts.Owed one = receipts.owe(1);
        Receipts.Owed two = receipts.owe(2);

        assertThat(receipts.settle(two)).isTrue();
        assertThat(first).isEmpty();
        assertThat(receipts.settle(one)).isTrue();
        assertThat(first).containsExactly(1, 2);
    }

    @Test
    void settled_afterTheNextConnectionBegan_acknowledgesNothingOnEither() {
        receipts.begin(first::add);
        Receipts.Owed old = receipts.owe(7);
        receipts.end();
        receipts.begin(second::add);
        Receipts.Owed sameId = receipts.owe(7);

        assertThat(receipts.settle(old)).isFalse();
        assertThat(first).isEmpty();
        assertThat(second).isEmpty();
        assertThat(receipts.settle(sameId)).isTrue();
        assertThat(second).containsExactly(7);
    }

    @Test
    void settled_betweenConnections_acknowledgesNothing() {
        long epoch = receipts.begin(first::add);
        Receipts.Owed old = receipts.owe(7);
        receipts.end();

        assertThat(receipts.isNow(epoch)).isFalse();
        assertThat(receipts.settle(old)).isFalse();
        assertThat(first).isEmpty();
    }

    /** Whatever the order of answers and breaks, each connection hears a beginning of what it brought, in order. */
    @Test
    void settled_inAnyOrderOverManyConnections_everyConnectionHearsAPrefix() {
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            List<Receipts.Owed> open = new ArrayList<>();
            for (int connection = 0; connection < 5; connection++) {
                List<Integer> brought = new ArrayList<>();
                List<Integer> heard = new ArrayList<>();
                long epoch = receipts.begin(heard::add);
                for (int step = 0; step < 60; step++) {
                    if (random.nextBoolean()) {
                        int id = 1 + random.nextInt(1000);
                        brought.add(id);
                        open.add(receipts.owe(id));
                    } else if (!open.isEmpty()) {
                        Receipts.Owed answered = open.remove(random.nextInt(open.size()));
                        assertThat(receipts.settle(answered))
                                .as("seed %d", seed)
                                .isEqualTo(answered.epoch() == epoch);
                    }
                    assertThat(heard).as("seed %d", seed).isEqualTo(brought.subList(0, heard.size()));
                }
                receipts.end();
            }
        }
    }
}
