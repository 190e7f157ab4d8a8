package dev.rimecast.analytics.fourthfleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.fleetfiles.FleetFiles;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.TruthRow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** The fourth simulator's machines against handbook physics, and its files. */
class FourthFleetTest {
    private static final List<String> FILES =
            List.of("machines.csv", "sites.csv", "events.csv", "weather.csv", "truth.csv", "telemetry.csv.gz");

    enum Measure {
        PULL_DOWN(Bench.Result::pullDown),
        FREEZE(Bench.Result::freeze),
        HARVEST(Bench.Result::harvest),
        FILL(Bench.Result::fill),
        DRAIN_LEVEL(Bench.Result::drainLevel),
        SPLIT(Bench.Result::split),
        WARMTH_OF_EVAPORATOR(result -> result.evaporatorLowest() + 100),
        BATCH(Bench.Result::batchKg),
        YIELD(Bench.Result::kgPerDay),
        WATER(Bench.Result::waterPerKg),
        CURRENT(Bench.Result::amperes);

        final ToDoubleFunction<Bench.Result> of;

        Measure(ToDoubleFunction<Bench.Result> of) {
            this.of = of;
        }
    }

    // Ranges of machines of 20 to 150 kg a day, common practice: batch 0.3 to 3 kg, freeze 13 to 32 min, harvest 1 to 5
    // min,
    // pull-down 2 to 7 min. One that goes by the clock is set to six minutes of harvest.
    @ParameterizedTest
    @EnumSource(MachineGroup.class)
    void cycle_ofSoundMachine_isThatOfItsClass(MachineGroup group) {
        Bench.Result sound = Bench.sound(group, 25, 15);

        assertThat(sound.pullDown()).isBetween(120.0, 420.0);
        assertThat(sound.freeze()).isBetween(13 * 60.0, 32 * 60.0);
        assertThat(sound.harvest()).isBetween(60.0, group == MachineGroup.BAR_38 ? 360.0 : 300.0);
        assertThat(sound.batchKg()).isBetween(0.3, 3.0);
        assertThat(sound.stopped()).isFalse();
    }

    // General handbook text: condensing 11 to 15 K above the air; small ice machines 10 to 20 K (common practice)
    @ParameterizedTest
    @EnumSource(value = MachineGroup.class, mode = EnumSource.Mode.EXCLUDE, names = "JET_85W")
    void split_inMildAndHotRooms_isThatOfSmallCondensers(MachineGroup group) {
        assertThat(Bench.sound(group, 25, 15).split()).isBetween(11.0, 15.0);
        assertThat(Bench.sound(group, 38, 25).split()).isBetween(10.0, 20.0);
    }

    // EPA WaterSense at Work (2012), p. 99: 15 to more than 50 gallons of potable water for 100 lb of ice, 1.25 to 4.2
    // l/kg;
    // the meter of a machine cooled by water has its cooling water, too
    @ParameterizedTest
    @EnumSource(value = MachineGroup.class, mode = EnumSource.Mode.EXCLUDE, names = "JET_85W")
    void water_ofSoundMachine_isWhatSuchMachinesUse(MachineGroup group) {
        assertThat(Bench.sound(group, 25, 15).waterPerKg()).isBetween(1.25, 4.2);
    }

    // Literature: 15 to 25 % more ice at 21 °C / 10 °C than at 32.2 °C / 21.1 °C (from memory), wider here for both
    // ends
    @ParameterizedTest
    @CsvSource({"JET_50", "PLATE_70", "PLATE_130"})
    void yield_inCoolRoomWithColdWater_isHigher(MachineGroup group) {
        double cool = Bench.sound(group, 21.1, 10).kgPerDay();
        double rated = Bench.sound(group, 32.2, 21.1).kgPerDay();

        assertThat(cool / rated).isBetween(1.12, 1.35);
    }

    @ParameterizedTest
    @EnumSource(MachineGroup.class)
    void ice_withWarmerWater_isLess(MachineGroup group) {
        assertThat(Bench.sound(group, 25, 10).kgPerDay())
                .isGreaterThan(Bench.sound(group, 25, 17.5).kgPerDay());
        assertThat(Bench.sound(group, 25, 17.5).kgPerDay())
                .isGreaterThan(Bench.sound(group, 25, 25).kgPerDay());
    }

    @ParameterizedTest
    @EnumSource(value = MachineGroup.class, mode = EnumSource.Mode.EXCLUDE, names = "JET_85W")
    void ice_inWarmerAir_isLess(MachineGroup group) {
        assertThat(Bench.sound(group, 20, 15).kgPerDay())
                .isGreaterThan(Bench.sound(group, 29, 15).kgPerDay());
        assertThat(Bench.sound(group, 29, 15).kgPerDay())
                .isGreaterThan(Bench.sound(group, 38, 15).kgPerDay());
    }

    // The fault-symptom matrix that this project works from, whose signs agree with the rules of Rossi and Braun
    // (1997), and
    // common practice. Scale shortens a freeze that temperature ends, and lengthens one that the water level ends.
    @ParameterizedTest
    @CsvSource({
        "JET_50,   AIRFLOW_RESTRICTED,            SPLIT,                +",
        "JET_50,   AIRFLOW_RESTRICTED,            HARVEST,              -",
        "PLATE_70, AIRFLOW_RESTRICTED,            YIELD,                -",
        "JET_50,   LOW_CHARGE,                    PULL_DOWN,            +",
        "JET_50,   LOW_CHARGE,                    HARVEST,              +",
        "PLATE_70, LOW_CHARGE,                    SPLIT,                -",
        "PLATE_70, LOW_CHARGE,                    CURRENT,              -",
        "JET_50,   COMPRESSOR_WEAK,               FREEZE,               +",
        "JET_50,   COMPRESSOR_WEAK,               SPLIT,                -",
        "JET_50,   REFRIGERANT_RESTRICTION,       FREEZE,               +",
        "JET_50,   HOT_GAS_VALVE_LEAKING,         FREEZE,               +",
        "JET_50,   HOT_GAS_VALVE_LEAKING,         YIELD,                -",
        "JET_50,   SCALE,                         FREEZE,               -",
        "PLATE_70, SCALE,                         FREEZE,               +",
        "JET_50,   SCALE,                         HARVEST,              +",
        "JET_50,   INLET_VALVE_LEAKING,           HARVEST,              -",
        "JET_50,   INLET_VALVE_LEAKING,           BATCH,                -",
        "JET_50,   INLET_VALVE_LEAKING,           WATER,                +",
        "JET_50,   DUMP_VALVE_LEAKING,            WARMTH_OF_EVAPORATOR, -",
        "JET_50,   CURTAIN_MISPLACED,             SPLIT,                -",
        "JET_50,   CIRCULATION_PUMP_WEAK,         PULL_DOWN,            -",
        "JET_50,   SPRAY_JETS_BLOCKED,            BATCH,                -",
        "PLATE_70, WATER_SUPPLY_LOW,              FILL,                 +",
        "JET_50,   LEVEL_PROBES_FOULED,           DRAIN_LEVEL,          +",
        "JET_50,   EVAPORATOR_SENSOR_LOOSE,       FREEZE,               +",
        "JET_50,   EVAPORATOR_SENSOR_LOOSE,       BATCH,                +",
        "JET_50,   AIR_IN_CIRCUIT_OR_OVERCHARGED, SPLIT,                +",
        "JET_50,   HOT_AIR_RECIRCULATING,         SPLIT,                +",
    })
    void fault_atWork_movesWhatItShould(MachineGroup group, FaultKind kind, Measure measure, char sign) {
        double sound = measure.of.applyAsDouble(Bench.sound(group, 25, 15));
        double faulty = measure.of.applyAsDouble(Bench.with(group, kind, kind.size.severeFrom()));

        assertThat((faulty / sound - 1) * (sign == '+' ? 1 : -1)).isGreaterThan(0.03);
    }

    // common practice: none of these lets a machine go on
    @ParameterizedTest
    @CsvSource({
        "FAN_FAILED",
        "DRAIN_PUMP_FAILED",
        "WASTE_HOSE_KINKED",
        "COMPRESSOR_NOT_STARTING",
        "HOT_GAS_VALVE_NOT_OPENING"
    })
    void fault_thatEndsRunning_stopsTheMachine(FaultKind kind) {
        assertThat(Bench.with(MachineGroup.JET_50, kind, kind.size.severeFrom()).stopped())
                .isTrue();
    }

    @Test
    void files_ofOneSeed_areTheSameByteForByte(@TempDir Path first, @TempDir Path second, @TempDir Path other)
            throws IOException {
        write(first, 5);
        write(second, 5);
        write(other, 6);

        for (String file : FILES) {
            assertThat(first.resolve(file)).hasSameBinaryContentAs(second.resolve(file));
        }
        assertThat(Files.mismatch(first.resolve("telemetry.csv.gz"), other.resolve("telemetry.csv.gz")))
                .isNotNegative();
        assertThat(TruthFile.read(first.resolve("truth.csv")))
                .isNotEmpty()
                .allMatch(row -> row.cause().isPresent())
                .allMatch(FourthFleetTest::isInOrder);
    }

    private static void write(Path directory, long seed) throws IOException {
        FourthFleetPlan plan = new FourthFleetPlan(seed, 1, 20, 120, ChannelScope.FULL, 0);
        FleetFiles.write(new FourthFleet(plan), plan.days(), directory);
    }

    private static boolean isInOrder(TruthRow row) {
        return !row.deadline().orElseThrow().isBefore(row.onset().orElseThrow());
    }
}
