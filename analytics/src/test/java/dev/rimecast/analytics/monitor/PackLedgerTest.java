package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.PackLedger.Passed;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

class PackLedgerTest {
    private PackLedger ledger = new PackLedger("b1");

    @Test
    void packs_inOrder_growWhatIsSeen() {
        for (int seq = 1; seq <= 3000; seq++) {
            assertThat(ledger.take(seq).isNew()).isTrue();
            assertThat(ledger.contiguous()).isEqualTo(seq);
        }
        assertThat(ledger.hasGap()).isFalse();
    }

    @Test
    void gap_isWaitedFor_andClosedByItsPack() {
        takeAll(1, 2, 4, 5);
        assertThat(ledger.contiguous()).isEqualTo(2);
        assertThat(ledger.hasGap()).isTrue();

        takeAll(3);

        assertThat(ledger.contiguous()).isEqualTo(5);
        assertThat(ledger.hasGap()).isFalse();
        assertThat(ledger.missing()).isZero();
    }

    @Test
    void gap_openForTenHeardMinutes_isSteppedOver() {
        takeAll(1, 4, 5, 8);
        for (int minute = 1; minute < PackLedger.GAP_MINUTES; minute++) {
            assertThat(ledger.minute(true)).isEmpty();
        }
        assertThat(ledger.minute(true)).contains(new Passed(2, 3, 2));
        assertThat(ledger.contiguous()).isEqualTo(5);
        assertThat(ledger.missing()).isEqualTo(2);
        // The next gap has ten minutes of its own.
        assertThat(ledger.minute(true)).isEmpty();
        assertThat(ledger.take(2).isNew()).as("given up is given up").isFalse();
    }

    @Test
    void gap_whileTheGatewayIsNotHeard_staysOpen() {
        takeAll(1, 3);
        for (int minute = 0; minute < 10_000; minute++) {
            assertThat(ledger.minute(false)).isEmpty();
        }
        assertThat(ledger.contiguous()).isEqualTo(1);
        takeAll(2);
        assertThat(ledger.contiguous()).isEqualTo(3);
    }

    @Test
    void minutes_withoutAGap_countForNone() {
        takeAll(1);
        for (int minute = 0; minute < 100; minute++) {
            assertThat(ledger.minute(true)).isEmpty();
        }
        takeAll(3);
        assertThat(ledger.minute(true)).isEmpty();
    }

    @Test
    void numberTooFarAhead_passesOverWhatCanNoLongerBeKept() {
        takeAll(1, 3);
        PackLedger.Taken taken = ledger.take(3 + PackLedger.AHEAD);

        assertThat(taken.isNew()).isTrue();
        assertThat(taken.passed()).contains(new Passed(2, 3, 1));
        assertThat(ledger.contiguous()).isEqualTo(3);
        assertThat(ledger.take(4).isNew()).as("within the window").isTrue();
        assertThat(ledger.take(3).isNew()).isFalse();
    }

    @Test
    void firstNumber_ofACountThatBeganElsewhere_movesTheWindowThere() {
        assertThat(ledger.take(50_000).passed())
                .contains(new Passed(1, 50_000 - PackLedger.AHEAD, 50_000 - PackLedger.AHEAD));
        assertThat(ledger.contiguous()).isEqualTo(50_000 - PackLedger.AHEAD);
        assertThat(ledger.take(Long.MAX_VALUE).isNew()).isTrue();
        assertThat(ledger.contiguous()).isEqualTo(Long.MAX_VALUE - PackLedger.AHEAD);
    }

    @Test
    void windowFullButForOne_andTheNumberBehindIt_leavesNoHole() {
        for (int seq = 2; seq <= PackLedger.AHEAD; seq++) {
            takeAll(seq);
        }
        PackLedger.Taken taken = ledger.take(PackLedger.AHEAD + 1L);
        assertThat(taken.passed()).contains(new Passed(1, 1, 1));
        assertThat(ledger.contiguous()).isEqualTo(PackLedger.AHEAD + 1);
        assertThat(ledger.hasGap()).isFalse();
    }

    @Test
    void shuffledAndRepeated_withinTheWindow_eachOnceAsASetSays() {
        for (long seed = 1; seed <= 50; seed++) {
            Random random = new Random(seed);
            ledger = new PackLedger("b1");
            Set<Long> seen = new HashSet<>();
            long contiguous = 0;
            for (long seq : shuffled(random)) {
                assertThat(ledger.take(seq).isNew())
                        .as("seed %s, seq %s", seed, seq)
                        .isEqualTo(seen.add(seq));
                while (seen.contains(contiguous + 1)) {
                    contiguous++;
                }
                assertThat(ledger.contiguous()).as("seed %s", seed).isEqualTo(contiguous);
                if (random.nextInt(100) == 0) {
                    ledger = restored(ledger);
                }
            }
            assertThat(ledger.missing()).as("seed %s", seed).isZero();
        }
    }

    /** 3,000 numbers three times each, in a window of 500. */
    private static List<Long> shuffled(Random random) {
        List<Long> numbers = new ArrayList<>();
        for (long seq = 1; seq <= 3000; seq++) {
            Collections.addAll(numbers, seq, seq, seq);
        }
        for (int from = 0; from < numbers.size(); from += 500) {
            Collections.shuffle(numbers.subList(from, Math.min(numbers.size(), from + 500)), random);
        }
        return numbers;
    }

    @Test
    void savedAndRestored_isTheSame_openMinutesToo() {
        takeAll(1, 3, 700);
        for (int minute = 1; minute < PackLedger.GAP_MINUTES; minute++) {
            ledger.minute(true);
        }
        ledger = restored(ledger);
        assertThat(ledger.minute(true)).contains(new Passed(2, 2, 1));
        assertThat(ledger.contiguous()).isEqualTo(3);
    }

    private static PackLedger restored(PackLedger ledger) {
        StateWriter out = new StateWriter();
        ledger.save(out);
        StateReader in = new StateReader(out.toBytes());
        PackLedger restored = PackLedger.restore(in);
        assertThat(in.atEnd()).isTrue();
        return restored;
    }

    private void takeAll(long... numbers) {
        for (long seq : numbers) {
            assertThat(ledger.take(seq).isNew()).as("%s", seq).isTrue();
        }
    }
}
