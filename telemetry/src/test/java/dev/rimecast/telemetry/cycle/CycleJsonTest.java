package dev.rimecast.telemetry.cycle;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.log.MalformedRecordException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class CycleJsonTest {
    private static final Instant START = Instant.parse("2026-05-04T00:00:12.010Z");

    private static final Cycle WHOLE = new Cycle(
            "ice-0007",
            START,
            Instant.parse("2026-05-04T00:25:00Z"),
            OptionalDouble.of(312.5),
            OptionalDouble.of(1285),
            OptionalDouble.of(98.25),
            OptionalDouble.of(47.1),
            OptionalDouble.of(44.9),
            OptionalDouble.of(1.0 / 3),
            OptionalDouble.of(-11.5),
            OptionalDouble.of(24),
            "sensor",
            OptionalDouble.of(14.5),
            "season",
            OptionalInt.of(2),
            OptionalDouble.of(3.1),
            OptionalDouble.of(4.2),
            true,
            List.of(
                    new Cycle.Residual(Feature.PULL_DOWN, 312.5, 290, 11),
                    new Cycle.Residual(Feature.SPLIT, 20, 18, 1)),
            "d1",
            "p1",
            Optional.empty());

    private static final Cycle BARE = new Cycle(
            "ice-0007",
            START,
            START.plusSeconds(60),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            "",
            OptionalDouble.empty(),
            "",
            OptionalInt.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            false,
            List.of(),
            "d1",
            "p1",
            Optional.empty());

    @Test
    void decode_encodedCycle_givesTheCycle() {
        assertThat(CycleJson.decode(CycleJson.encode(WHOLE))).isEqualTo(WHOLE);
        assertThat(CycleJson.decode(CycleJson.encode(BARE))).isEqualTo(BARE);
    }

    @Test
    void encode_cycleOfWhichLittleIsKnown_leavesTheRestOut() {
        assertThat(new String(CycleJson.encode(BARE), UTF_8))
                .isEqualTo("{\"v\":1,\"machine\":\"ice-0007\",\"freeze_start\":\"2026-05-04T00:00:12.010Z\","
                        + "\"end\":\"2026-05-04T00:01:12.010Z\",\"complete\":false,"
                        + "\"detector_version\":\"d1\",\"policy_version\":\"p1\"}");
    }

    @Test
    void decode_fieldsOfANewerWriter_areIgnored() {
        String json = new String(CycleJson.encode(WHOLE), UTF_8)
                .replace("\"complete\"", "\"new\":{\"a\":[1]},\"complete\"")
                .replace("\"sigma\"", "\"weight\":2,\"sigma\"");

        assertThat(CycleJson.decode(json.getBytes(UTF_8))).isEqualTo(WHOLE);
    }

    @Test
    void decode_cutOffAnywhere_isMalformed() {
        byte[] whole = CycleJson.encode(WHOLE);
        for (int length = 0; length < whole.length; length++) {
            byte[] part = Arrays.copyOf(whole, length);
            assertThatThrownBy(() -> CycleJson.decode(part)).isInstanceOf(MalformedRecordException.class);
        }
    }

    @Test
    void decode_fieldThatDoesNotFit_isNamed() {
        assertMalformed("\"v\":1", "\"v\":2", "unknown version 2 at field v");
        assertMalformed("\"freeze_s\":1285.0", "\"freeze_s\":\"1285\"", "not a number at field freeze_s");
        assertMalformed("\"freeze_s\":1285.0", "\"freeze_s\":1e999", "a number beyond a double at field freeze_s");
        assertMalformed("\"drain_runs\":2", "\"drain_runs\":2.5", "not a 32-bit whole number at field drain_runs");
        assertMalformed("\"feature\":\"split\"", "\"feature\":\"x\"", "unknown code 'x' at field residuals[1].feature");
        assertMalformed("00:25:00.000Z", "25 past", "no ISO 8601 time '2026-05-04T25 past' at field end");
        assertMalformed("\"sigma\":11.0", "\"sigma\":0", "sigma of pull-down must be above 0, was 0.0 at the record");
    }

    private static void assertMalformed(String original, String replacement, String message) {
        String json = new String(CycleJson.encode(WHOLE), UTF_8).replace(original, replacement);
        assertThat(json).contains(replacement);
        assertThatThrownBy(() -> CycleJson.decode(json.getBytes(UTF_8)))
                .isInstanceOf(MalformedRecordException.class)
                .hasMessage(message);
    }
}
