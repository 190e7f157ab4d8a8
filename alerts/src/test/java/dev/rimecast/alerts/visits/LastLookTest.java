package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.visits.LastLook.Known;
import dev.rimecast.alerts.visits.plan.PartOrder;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Test;

class LastLookTest {
    private static final long SECOND = TimeUnit.SECONDS.toNanos(1);

    private String mark = "1|a|";
    private int looks;
    private long nanos;
    private final LastLook look = new LastLook(() -> mark, () -> nanos);

    /** The number of the look is in its order. */
    private Known look() {
        looks++;
        return new Known(List.of(), Map.of("look", List.of(new PartOrder("Fan", looks, true, LocalDate.EPOCH))));
    }

    private int shown() {
        List<PartOrder> orders = look.now(this::look).orders().getOrDefault("look", List.of());
        return orders.isEmpty() ? 0 : orders.get(0).days();
    }

    @Test
    void processThatNeverPlanned_looksOnceUntilSomethingChanges() {
        assertThat(shown()).isEqualTo(1);
        nanos += 60 * SECOND;
        assertThat(shown()).isEqualTo(1);
        mark = "1|b|";
        assertThat(shown()).as("asked for less than two seconds ago").isEqualTo(1);
        nanos += 2 * SECOND;
        assertThat(shown()).isEqualTo(2);
    }

    @Test
    void changesCloseTogether_waitForTwoSeconds() {
        assertThat(shown()).isEqualTo(1);
        mark = "1|b|";
        nanos += SECOND;
        assertThat(shown()).isEqualTo(1);
        nanos += SECOND;
        assertThat(shown()).isEqualTo(2);
    }

    @Test
    void processThatHasPlanned_doesNotLookForWhatPlanningItselfChanged() {
        look.by(() -> {
            mark = "1|a|visits";
            return look();
        });
        nanos += 60 * SECOND;

        assertThat(shown()).isEqualTo(1);
    }

    @Test
    void changeWhileItIsPlanned_isLookedAtTheNextTime() {
        look.by(() -> {
            mark = "2|a|visits";
            return look();
        });
        nanos += 60 * SECOND;

        assertThat(shown()).isEqualTo(2);
    }

    @Test
    void visitThatSomebodyElseChangesWhileItIsLookedAt_isLookedAtTheNextTime() {
        look.now(() -> {
            mark = "1|a|visits";
            return look();
        });
        nanos += 60 * SECOND;

        assertThat(shown()).isEqualTo(2);
    }

    @Test
    void beforeTheFirstLookHasEnded_nobodyIsToldThatNothingWaits() throws InterruptedException {
        CountDownLatch begun = new CountDownLatch(1);
        Thread slow = new Thread(() -> look.now(() -> {
            begun.countDown();
            LockSupport.parkNanos(TimeUnit.MILLISECONDS.toNanos(300));
            return look();
        }));
        slow.start();
        assertThat(begun.await(20, TimeUnit.SECONDS)).isTrue();

        int first = shown();

        slow.join(TimeUnit.SECONDS.toMillis(20));
        assertThat(first).isEqualTo(1);
        assertThat(looks).isEqualTo(1);
    }

    @Test
    void whereNobodyElsePlans_isNeverLookedAtForReaders() {
        mark = "";
        nanos += 60 * SECOND;
        assertThat(shown()).isZero();

        look.by(this::look);
        nanos += 60 * SECOND;
        assertThat(shown()).isEqualTo(1);
    }

    @Test
    void whileSomebodyLooks_othersSeeWhatWasKnown() {
        assertThat(shown()).isEqualTo(1);
        mark = "1|b|";
        nanos += 60 * SECOND;
        int[] meanwhile = new int[1];

        look.now(() -> {
            Thread other = new Thread(() -> meanwhile[0] = shown());
            other.start();
            try {
                other.join(TimeUnit.SECONDS.toMillis(20));
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
            return look();
        });

        assertThat(meanwhile[0]).isEqualTo(1);
        assertThat(shown()).isEqualTo(2);
    }
}
