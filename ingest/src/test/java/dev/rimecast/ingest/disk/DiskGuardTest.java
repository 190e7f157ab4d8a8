package dev.rimecast.ingest.disk;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

/** When the intake closes and opens, by the room that there is. */
class DiskGuardTest {
    private final AtomicLong free = new AtomicLong(1_000);
    private final AtomicInteger told = new AtomicInteger();
    private final DiskGuard guard = new DiskGuard(free::get, 100);

    DiskGuardTest() {
        guard.onChange(told::incrementAndGet);
    }

    private boolean isClosedAt(long bytes) {
        free.set(bytes);
        guard.look();
        return guard.isClosed();
    }

    @Test
    void guard_belowItsReserve_closes_andOpensAtAFifthMore() {
        assertThat(isClosedAt(100)).isFalse();
        assertThat(isClosedAt(99)).isTrue();
        assertThat(isClosedAt(119)).as("not yet").isTrue();
        assertThat(isClosedAt(120)).isFalse();
        assertThat(isClosedAt(101)).as("closes at its reserve only").isFalse();
        assertThat(told).hasValue(2);
    }

    @Test
    void guard_closed_saysWhyAndWhatToDo() {
        guard.look();
        assertThat(guard.problem()).isEmpty();

        isClosedAt(5);
        assertThat(guard.problem().orElseThrow()).contains("gateways keep their packs", "Make room");
    }

    @Test
    void guard_thatIsSwitchedOff_orCantLook_stays() {
        DiskGuard off = new DiskGuard(() -> 0, 0);
        off.look();
        assertThat(off.isClosed()).isFalse();

        DiskGuard blind = new DiskGuard(
                () -> {
                    throw new IOException("gone");
                },
                100);
        blind.look();
        assertThat(blind.isClosed()).isFalse();
        DiskGuard.none().look();
        assertThat(DiskGuard.none().isClosed()).isFalse();
    }
}
