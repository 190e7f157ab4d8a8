package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.ice.MachineIce;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** What the database holds of a bin that was full when its machine was heard last. Expected values by hand. */
@TestInstance(Lifecycle.PER_CLASS)
class IceReckonerIT {
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
    private static final Machine ICE = Machine.basic("ice-1", "bar", "gw-1");
    /** 24 kg a day are taken, by the register: 1 kg/h. */
    private static final Site BAR = new Site(
            "bar",
            "Bar",
            ZoneId.of("UTC"),
            Optional.empty(),
            Optional.empty(),
            Set.of(),
            Optional.empty(),
            Optional.empty(),
            OptionalDouble.of(24),
            OptionalDouble.empty());

    @AutoClose
    private final OwnDatabase own = new OwnDatabase();

    @BeforeEach
    void beginAnew() {
        own.beginAnew();
        own.database().jdbi().useHandle(handle -> {
            RegisterStore.put(handle, BAR, NOW);
            RegisterStore.put(handle, ICE, NOW);
        });
    }

    @Test
    void reckon_fellSilentWithAFullBin_countsFromItsLastReading() {
        full(Duration.ofDays(2));
        heard(Duration.ofHours(5));

        assertThat(stockKg()).isCloseTo(ICE.binKg() - 5, within(1e-6));
    }

    @Test
    void reckon_fullForLongerThanIsLookedBack_isStillFull() {
        full(Duration.ofDays(60));
        heard(Duration.ZERO);

        assertThat(stockKg()).isEqualTo(ICE.binKg());
    }

    private double stockKg() {
        Optional<List<MachineIce>> known =
                own.database().jdbi().withHandle(handle -> IceReckoner.machinesIce(handle, BAR, NOW));
        return known.orElseThrow().get(0).stockKg();
    }

    private void full(Duration ago) {
        own.database()
                .jdbi()
                .useHandle(handle -> handle.execute(
                        "insert into bin_full (machine, began) values (?, ?)", ICE.id(), NOW.minus(ago)));
    }

    private void heard(Duration ago) {
        own.database()
                .jdbi()
                .useHandle(handle -> handle.execute(
                        "insert into latest_row (machine, newest, times, numbers, version) values (?, ?, '{}', '{}', 1)",
                        ICE.id(),
                        NOW.minus(ago)));
    }
}
