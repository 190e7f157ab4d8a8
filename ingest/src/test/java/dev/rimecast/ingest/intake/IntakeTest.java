package dev.rimecast.ingest.intake;

import static dev.rimecast.ingest.intake.LineDecoder.line;
import static dev.rimecast.telemetry.machine.Channel.CONDENSER_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.CONTROLLER_STATUS;
import static dev.rimecast.telemetry.machine.Channel.EVAPORATOR_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.FREEZE_TIME;
import static dev.rimecast.telemetry.machine.Channel.SUPPLY_CURRENT;
import static dev.rimecast.telemetry.machine.Channel.WATER_VOLUME;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The rules of the contract, section 3: what a message becomes. */
class IntakeTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Optional<PackNumber> SEVENTH = Optional.of(new PackNumber("b1", 7));
    private static final Register REGISTER = new Register(
            List.of(
                    Machine.basic("ice-1", "harbour", "gw-1"),
                    Machine.basic("ice-2", "harbour", "gw-1"),
                    Machine.basic("ice-3", "harbour", "gw-2")),
            List.of());

    private final Intake intake = new Intake(new LineDecoder());

    @Test
    void goodReadings_ofRegisteredMachines_goIntoTheSitesLogInOrder() {
        Decision decision = decide(
                "gw-1",
                Optional.empty(),
                line("ice-2", EVAPORATOR_TEMPERATURE, NOW, -6.4),
                line("ice-1", CONDENSER_TEMPERATURE, NOW.minusSeconds(3), 41.8));

        assertThat(decision.writes())
                .containsExactly(new Write.ToSite(
                        "harbour",
                        new SiteRecord.Pack(
                                "gw-1",
                                Optional.empty(),
                                NOW,
                                List.of(
                                        Reading.number("ice-2", EVAPORATOR_TEMPERATURE, NOW.toEpochMilli(), -6.4),
                                        Reading.number(
                                                "ice-1", CONDENSER_TEMPERATURE, NOW.toEpochMilli() - 3000, 41.8)),
                                0)));
        assertThat(decision.tally()).isEqualTo(new Tally(2, 2, 0, Map.of()));
    }

    /** Contract section 3: "More than 10 minutes in the future is rejected." */
    @ParameterizedTest
    @CsvSource({"600000, true", "600001, false", "-31536000000, true"})
    void time_againstTheClockOfIngest(long aheadMillis, boolean isTaken) {
        Decision decision =
                decide("gw-1", Optional.empty(), line("ice-1", EVAPORATOR_TEMPERATURE, NOW.plusMillis(aheadMillis), 1));

        assertThat(decision.tally())
                .isEqualTo(isTaken ? new Tally(1, 1, 0, Map.of()) : rejected(1, RejectReason.FUTURE_TIME));
    }

    @ParameterizedTest
    @CsvSource({"1999-12-31T23:59:59.999Z, false", "2000-01-01T00:00:00Z, true", "1970-01-01T00:00:10Z, false"})
    void time_beforeClocksWereSet_isRejected(Instant time, boolean isTaken) {
        Decision decision = decide("gw-1", Optional.empty(), line("ice-1", EVAPORATOR_TEMPERATURE, time, 1));

        assertThat(decision.tally())
                .isEqualTo(isTaken ? new Tally(1, 1, 0, Map.of()) : rejected(1, RejectReason.BAD_TIME));
    }

    @Test
    void machineOfAnotherGateway_isRejectedWithItsIndex_andTheRestGoesOn() {
        Decision decision = decide(
                "gw-1",
                Optional.empty(),
                line("ice-1", EVAPORATOR_TEMPERATURE, NOW, 1),
                line("ice-3", EVAPORATOR_TEMPERATURE, NOW, 2));

        assertThat(decision.tally()).isEqualTo(new Tally(2, 1, 0, Map.of(RejectReason.MACHINE_OF_OTHER_GATEWAY, 1)));
        assertThat(rejectsOf(decision).rejects())
                .containsExactly(new Reject(RejectReason.MACHINE_OF_OTHER_GATEWAY, OptionalInt.of(1), "ice-3"));
        assertThat(packsOf(decision).get(0).rejected()).isEqualTo(1);
    }

    @Test
    void machineInNoRegister_isKeptAsUnclaimed() {
        Decision decision = decide(
                "gw-1",
                Optional.empty(),
                line("ice-9", EVAPORATOR_TEMPERATURE, NOW, 1),
                line("ice-1", EVAPORATOR_TEMPERATURE, NOW, 2));

        assertThat(decision.tally()).isEqualTo(new Tally(2, 1, 1, Map.of()));
        assertThat(unclaimedOf(decision).readings())
                .containsExactly(Reading.number("ice-9", EVAPORATOR_TEMPERATURE, NOW.toEpochMilli(), 1));
    }

    @Test
    void gatewayInNoRegister_hasAllItsReadingsKept() {
        Decision decision = decide("gw-9", SEVENTH, line("ice-9", EVAPORATOR_TEMPERATURE, NOW, 1));

        assertThat(decision.tally()).isEqualTo(new Tally(1, 0, 1, Map.of()));
        assertThat(decision.writes()).hasSize(1);
        assertThat(unclaimedOf(decision).number()).isEqualTo(SEVENTH);
    }

    /** Contract section 3: "Every numbered pack, even one that is wholly rejected, leaves a record in its site's log". */
    @ParameterizedTest
    @CsvSource({
        "!poison, NOT_SENML",
        "nonsense, NO_VALUE",
        "ice-3 evaporator_temperature 1777800000000 1, MACHINE_OF_OTHER_GATEWAY"
    })
    void numberedPack_whollyRejected_leavesARecordInTheLog(String payload, RejectReason reason) {
        Decision decision = decide("gw-1", SEVENTH, payload);

        assertThat(decision.tally()).isEqualTo(rejected(1, reason));
        assertThat(packsOf(decision)).containsExactly(new SiteRecord.Pack("gw-1", SEVENTH, NOW, List.of(), 1));
        assertThat(rejectsOf(decision).payload()).isEqualTo(payload.getBytes(StandardCharsets.UTF_8));
    }

    @Test
    void numberedPack_ofUnclaimedMachinesOnly_leavesARecordInTheLogToo() {
        Decision decision = decide("gw-1", SEVENTH, line("ice-9", EVAPORATOR_TEMPERATURE, NOW, 1));

        assertThat(packsOf(decision)).containsExactly(new SiteRecord.Pack("gw-1", SEVENTH, NOW, List.of(), 0));
        assertThat(unclaimedOf(decision).readings()).hasSize(1);
    }

    @Test
    void numberedPack_ofAnUnknownGatewayWhollyRejected_leavesARecordAmongTheUnclaimed() {
        Decision decision = decide("gw-9", SEVENTH, "!poison");

        assertThat(unclaimedOf(decision)).isEqualTo(new SiteRecord.Pack("gw-9", SEVENTH, NOW, List.of(), 1));
    }

    @Test
    void unnumberedPack_whollyRejected_leavesNothingInTheLog() {
        Decision decision = decide("gw-1", Optional.empty(), "!poison");

        assertThat(decision.writes()).hasSize(1);
        assertThat(decision.isPoison()).isTrue();
        assertThat(rejectsOf(decision).topic()).isEqualTo("fleet/gw-1/senml");
    }

    @Test
    void payload_overTheLimit_isRejectedUnread() {
        Decision atLimit = decide("gw-1", Optional.empty(), "!" + "x".repeat(Intake.MAX_PAYLOAD_BYTES - 1));
        Decision over = decide("gw-1", Optional.empty(), "!" + "x".repeat(Intake.MAX_PAYLOAD_BYTES));

        assertThat(atLimit.tally()).isEqualTo(rejected(1, RejectReason.NOT_SENML));
        assertThat(over.tally()).isEqualTo(rejected(1, RejectReason.TOO_LARGE));
    }

    @ParameterizedTest
    @CsvSource({"500, true", "501, false"})
    void records_overTheLimit_areRejectedAsOne(int records, boolean isTaken) {
        String[] lines = IntStream.range(0, records)
                .mapToObj(i -> line("ice-1", EVAPORATOR_TEMPERATURE, NOW.minusSeconds(i), i % 30))
                .toArray(String[]::new);

        assertThat(decide("gw-1", Optional.empty(), lines).tally())
                .isEqualTo(isTaken ? new Tally(500, 500, 0, Map.of()) : rejected(1, RejectReason.TOO_MANY_RECORDS));
    }

    /** Common practice: a broken wire reads as the end of a probe's table, far outside a plant room, and must pass. */
    @ParameterizedTest
    @CsvSource({
        "EVAPORATOR_TEMPERATURE, -273.15, true",
        "EVAPORATOR_TEMPERATURE, 850, true",
        "EVAPORATOR_TEMPERATURE, 1000.1, false",
        "CONDENSER_TEMPERATURE, -1001, false",
        "SUPPLY_CURRENT, -0.1, true",
        "SUPPLY_CURRENT, 10001, false",
        "FREEZE_TIME, 0, true",
        "FREEZE_TIME, -1, false",
        "FREEZE_TIME, 1000001, false",
        "WATER_VOLUME, -0.001, false",
        "WATER_VOLUME, 123456.7, true",
    })
    void value_thatNoMachineCanGive_isRejected_anOpenSensorIsNot(Channel channel, double value, boolean isTaken) {
        Decision decision = decide("gw-1", Optional.empty(), line("ice-1", channel, NOW, value));

        assertThat(decision.tally())
                .isEqualTo(isTaken ? new Tally(1, 1, 0, Map.of()) : rejected(1, RejectReason.OUT_OF_RANGE));
    }

    @Test
    void badNumber_isKeptAmongTheRejects_andTheReadingsAreTaken() {
        byte[] payload = bytes(line("ice-1", EVAPORATOR_TEMPERATURE, NOW, 1));
        Decision decision = intake.pack(
                new Message(
                        "fleet/gw-1/senml",
                        "gw-1",
                        PayloadFormat.JSON,
                        payload,
                        Optional.empty(),
                        Optional.of("seq is not a whole number"),
                        NOW),
                REGISTER);

        assertThat(decision.tally()).isEqualTo(new Tally(1, 1, 0, Map.of()));
        assertThat(packsOf(decision).get(0).number()).isEmpty();
        assertThat(rejectsOf(decision).rejects())
                .containsExactly(new Reject(RejectReason.BAD_NUMBER, OptionalInt.empty(), "seq is not a whole number"));
    }

    /** Contract, topics.md: "A record larger than 512 KiB is split by machine before it is written." */
    @Test
    void record_largerThanTheLimit_isSplitByMachine() {
        List<Reading> readings = IntStream.range(0, 400)
                .mapToObj(i ->
                        Reading.text("ice-" + (1 + i % 2), CONTROLLER_STATUS, NOW.toEpochMilli() + i, "é".repeat(800)))
                .toList();
        SiteRecord.Pack large = new SiteRecord.Pack("gw-1", SEVENTH, NOW, readings, 3);

        List<SiteRecord.Pack> parts = PackSplitter.split(large, PackSplitter.MAX_RECORD_BYTES);

        assertThat(parts).hasSize(2).allSatisfy(part -> {
            assertThat(SiteLogCodec.encode(part)).hasSizeLessThanOrEqualTo(512 * 1024);
            assertThat(part.number()).isEqualTo(SEVENTH);
            assertThat(part.readings().stream().map(Reading::machine).distinct())
                    .hasSize(1);
        });
        assertThat(parts.stream().flatMap(p -> p.readings().stream())).containsExactlyInAnyOrderElementsOf(readings);
        assertThat(parts.stream().mapToInt(SiteRecord.Pack::rejected).sum()).isEqualTo(3);
    }

    @Test
    void presence_ofARegisteredGateway_goesIntoItsLog() {
        assertThat(intake.presence("fleet/gw-1/presence", "gw-1", bytes("online"), NOW, REGISTER)
                        .writes())
                .containsExactly(new Write.ToSite("harbour", new SiteRecord.Presence(NOW, "gw-1", true)));
        assertThat(intake.lost("gw-1", NOW, REGISTER).writes())
                .containsExactly(new Write.ToSite("harbour", new SiteRecord.Presence(NOW, "gw-1", false)));
        assertThat(intake.lost("gw-9", NOW, REGISTER).writes()).isEmpty();
        assertThat(intake.presence("fleet/gw-1/presence", "gw-1", bytes("maybe"), NOW, REGISTER)
                        .tally())
                .isEqualTo(rejected(1, RejectReason.BAD_PRESENCE));
    }

    @Test
    void tally_thatDoesNotBalance_isRefused() {
        assertThatThrownBy(() -> new Tally(5, 3, 1, Map.of(RejectReason.BAD_TIME, 2)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("received 5");
    }

    /** Conservation over random packs: every record of every message is in exactly one place. */
    @Test
    void records_ofRandomPacks_areConserved() {
        long seed = 20260504;
        Random random = new Random(seed);
        for (int round = 0; round < 500; round++) {
            int size = 1 + random.nextInt(20);
            String[] lines =
                    IntStream.range(0, size).mapToObj(i -> randomLine(random)).toArray(String[]::new);
            Decision decision =
                    decide("gw-" + (1 + random.nextInt(3)), random.nextBoolean() ? SEVENTH : Optional.empty(), lines);

            int stored = packsOf(decision).stream()
                    .mapToInt(p -> p.readings().size())
                    .sum();
            int unclaimed = decision.writes().stream()
                    .mapToInt(w -> w instanceof Write.ToUnclaimed u
                            ? u.pack().readings().size()
                            : 0)
                    .sum();
            int rejects = decision.writes().stream()
                    .mapToInt(w -> w instanceof Write.ToRejects r ? r.rejects().size() : 0)
                    .sum();
            assertThat(stored + unclaimed + rejects)
                    .as("seed %d round %d", seed, round)
                    .isEqualTo(size);
            assertThat(decision.tally().received()).isEqualTo(size);
            assertThat(decision.tally().rejectedRecords()).isEqualTo(rejects);
        }
    }

    private static String randomLine(Random random) {
        return switch (random.nextInt(5)) {
            case 0 -> "nonsense";
            case 1 -> line("ice-1", EVAPORATOR_TEMPERATURE, NOW.plus(Duration.ofHours(1)), 1);
            case 2 -> line("ice-" + random.nextInt(6), SUPPLY_CURRENT, NOW, 4);
            case 3 -> line("ice-2", WATER_VOLUME, NOW, -1 + random.nextInt(3));
            default -> line("ice-3", FREEZE_TIME, NOW, 1200);
        };
    }

    private Decision decide(String gateway, Optional<PackNumber> number, String... lines) {
        return intake.pack(
                new Message(
                        "fleet/" + gateway + "/senml",
                        gateway,
                        PayloadFormat.JSON,
                        bytes(String.join("\n", lines)),
                        number,
                        Optional.empty(),
                        NOW),
                REGISTER);
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static Tally rejected(int count, RejectReason reason) {
        return new Tally(count, 0, 0, Map.of(reason, count));
    }

    private static List<SiteRecord.Pack> packsOf(Decision decision) {
        return decision.writes().stream()
                .filter(w -> w instanceof Write.ToSite)
                .map(w -> (SiteRecord.Pack) ((Write.ToSite) w).entry())
                .collect(Collectors.toList());
    }

    private static SiteRecord.Pack unclaimedOf(Decision decision) {
        return decision.writes().stream()
                .filter(w -> w instanceof Write.ToUnclaimed)
                .map(w -> ((Write.ToUnclaimed) w).pack())
                .findFirst()
                .orElseThrow();
    }

    private static Write.ToRejects rejectsOf(Decision decision) {
        return decision.writes().stream()
                .filter(w -> w instanceof Write.ToRejects)
                .map(w -> (Write.ToRejects) w)
                .findFirst()
                .orElseThrow();
    }
}
