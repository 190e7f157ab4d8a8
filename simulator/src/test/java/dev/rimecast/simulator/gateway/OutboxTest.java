package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.log.PackNumber;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OutboxTest {
    private static final long SECOND = 1_000_000_000;

    @TempDir
    Path directory;

    private final MemoryStore store = new MemoryStore("b1");
    private final Outbox outbox = new Outbox(store, Pace.UNLIMITED);

    @Test
    void next_moreThanTheWindow_waitsForReceipts() {
        add(store, 4);
        outbox.connected(2, 0);
        assertThat(sent(outbox, 0)).containsExactly(1L, 2L);
        outbox.receipt(1);
        assertThat(sent(outbox, 0)).containsExactly(3L);
    }

    @Test
    void afterABreak_whatHasNoReceiptIsSentAgain_inOrder() {
        add(store, 4);
        outbox.connected(3, 0);
        sent(outbox, 0);
        outbox.receipt(2);
        outbox.disconnected();
        assertThat(sent(outbox, 0)).isEmpty();

        outbox.connected(10, 0);

        assertThat(sent(outbox, 0)).containsExactly(1L, 3L, 4L);
    }

    @Test
    void isReceipted_receiptsOutOfOrder_onlyWhenAllBeforeAreThere() {
        add(store, 2);
        outbox.connected(10, 0);
        sent(outbox, 0);
        outbox.receipt(2);
        assertThat(outbox.isReceipted(2)).isFalse();
        outbox.receipt(1);
        assertThat(outbox.isReceipted(2)).isTrue();
        assertThat(store.size()).isZero();
    }

    @Test
    void fileStore_afterABreak_sendsAgainWhatIsNotCovered_thoughItHadItsReceipt() {
        try (FileStore files = FileStore.open(directory, "b1", Long.MAX_VALUE)) {
            Outbox behindABroker = new Outbox(files, Pace.UNLIMITED);
            add(files, 5);
            behindABroker.connected(10, 0);
            sent(behindABroker, 0);
            for (long seq = 1; seq <= 5; seq++) {
                behindABroker.receipt(seq);
            }
            behindABroker.covered(new PackNumber("b1", 2), 0);
            behindABroker.covered(new PackNumber("another", 5), 0);
            behindABroker.connected(10, 0);
            assertThat(sent(behindABroker, 0)).containsExactly(3L, 4L, 5L);
        }
    }

    @Test
    void backlog_leavesAtItsPace_andWhatComesLaterBehindIt() {
        try (FileStore files = FileStore.open(directory, "b1", Long.MAX_VALUE)) {
            Outbox paced = new Outbox(files, new Pace(10, Duration.ofMinutes(1)));
            add(files, 25);
            paced.connected(1000, 0);
            add(files, 5);
            List<Long> all = new ArrayList<>();
            long now = 0;
            for (; all.size() < 30; now += paced.waitNanos(now)) {
                List<Long> next = sent(paced, now);
                assertThat(next).as("at %s ns", now).isNotEmpty();
                all.addAll(next);
            }
            assertThat(all).isSorted().hasSize(30);
            // 25 packs at ten a second: the last of them after 2.4 s, and then at once what came later.
            assertThat(now).isEqualTo(24 * SECOND / 10);
        }
    }

    @Test
    void receiptsWithoutCover_areBelievedForAMinute_thenAllIsSentAgain() {
        try (FileStore files = FileStore.open(directory, "b1", Long.MAX_VALUE)) {
            Outbox patient = new Outbox(files, new Pace(Double.POSITIVE_INFINITY, Duration.ofMinutes(1)));
            add(files, 3);
            patient.connected(10, 0);
            sent(patient, 0);
            for (long seq = 1; seq <= 3; seq++) {
                patient.receipt(seq);
            }
            patient.covered(new PackNumber("b1", 1), 30 * SECOND);
            patient.againIfStalled(89 * SECOND);
            assertThat(sent(patient, 89 * SECOND)).isEmpty();
            patient.againIfStalled(90 * SECOND);
            assertThat(sent(patient, 90 * SECOND)).containsExactly(2L, 3L);
        }
    }

    @Test
    void memory_isNeverSentAgainForWantOfCover() {
        add(store, 1);
        outbox.connected(10, 0);
        sent(outbox, 0);
        outbox.receipt(1);
        outbox.againIfStalled(Long.MAX_VALUE / 2);
        assertThat(sent(outbox, Long.MAX_VALUE / 2)).isEmpty();
    }

    private static void add(PackStore store, int packs) {
        for (int i = 0; i < packs; i++) {
            store.add(new byte[] {(byte) i});
        }
        store.settle();
    }

    private static List<Long> sent(Outbox outbox, long now) {
        List<Long> numbers = new ArrayList<>();
        for (Optional<PackStore.Numbered> next = outbox.next(now); next.isPresent(); next = outbox.next(now)) {
            numbers.add(next.get().seq());
        }
        return numbers;
    }
}
