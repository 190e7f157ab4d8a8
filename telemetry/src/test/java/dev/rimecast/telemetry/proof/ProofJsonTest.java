package dev.rimecast.telemetry.proof;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.file.result.ProofsFile;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.log.MalformedRecordException;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProofJsonTest {
    private static final Instant WORKED = Instant.parse("2026-05-20T10:00:00Z");

    private static Proof proof(int revision) {
        return new Proof(
                Proof.idOf("ice-1", WORKED),
                revision,
                "bar",
                "ice-1",
                WORKED,
                WORKED.plusSeconds(5_000),
                Optional.of(Cause.SCALE),
                List.of(Condition.SLOW_PULL_DOWN, Condition.LONG_FREEZE),
                Check.FIRST_CYCLES,
                Verdict.HELD_SO_FAR,
                OptionalDouble.of(0.9375),
                2,
                OptionalInt.of(1),
                List.of(Condition.LOW_OUTPUT),
                List.of(new Proof.Shown(Feature.PULL_DOWN, OptionalDouble.of(234), 186, 174, 12, 2, 0.9375)),
                false,
                "0 °C after 3.1 min, expected 2.9 ± 0.4.",
                "1",
                "standard");
    }

    /** Golden: topic {@code proofs} is read by others. */
    @Test
    void encode_everyField_isTheContracts() {
        assertThat(new String(ProofJson.encode(proof(3)), StandardCharsets.UTF_8))
                .isEqualTo("""
                {"v":1,"id":"%s","revision":3,"site":"bar","machine":"ice-1","worked_at":"2026-05-20T10:00:00.000Z",\
                "at":"2026-05-20T11:23:20.000Z","cause":"scale","about":["slow-pull-down","long-freeze"],\
                "check":"first-cycles","verdict":"held-so-far","probability":0.9375,"cycles":2,"more":1,\
                "raised_since":["low-output"],"shown":[{"feature":"pull-down","before":234.0,"measured":186.0,\
                "expected":174.0,"sigma":12.0,"cycles":2,"probability":0.9375}],"last":false,\
                "summary":"0 °C after 3.1 min, expected 2.9 ± 0.4.","detector_version":"1",\
                "policy_version":"standard"}""".formatted(Proof.idOf("ice-1", WORKED)));
    }

    @Test
    void decode_whatWasEncoded_isTheSame() {
        assertThat(ProofJson.decode(ProofJson.encode(proof(3)))).isEqualTo(proof(3));
    }

    @Test
    void decode_unknownVerdict_namesTheField() {
        String json = new String(ProofJson.encode(proof(1)), StandardCharsets.UTF_8);

        assertThatThrownBy(() ->
                        ProofJson.decode(json.replace("held-so-far", "splendid").getBytes(StandardCharsets.UTF_8)))
                .isInstanceOf(MalformedRecordException.class)
                .hasMessageContaining("verdict");
    }

    @Test
    void idOf_isTheMachinesAndTheTimes() {
        assertThat(Proof.idOf("ice-1", WORKED))
                .isEqualTo(Proof.idOf("ice-1", WORKED))
                .isNotEqualTo(Proof.idOf("ice-2", WORKED))
                .isNotEqualTo(Proof.idOf("ice-1", WORKED.plusMillis(1)));
    }

    @Test
    void file_rowsByMachineWorkAndRevision(@TempDir Path directory) throws IOException {
        Path file = directory.resolve("proofs.csv");
        ProofsFile.write(file, List.of(proof(2), proof(1)));

        assertThat(Files.readAllLines(file))
                .hasSize(3)
                .startsWith(
                        "proof,revision,machine,worked_at,at,cause,about,check,verdict,probability,cycles,last,summary")
                .element(1)
                .asString()
                .contains(",1,ice-1,2026-05-20T10:00:00.000Z,")
                .contains(",scale,slow-pull-down;long-freeze,first-cycles,held-so-far,0.938,2,0,");
    }
}
