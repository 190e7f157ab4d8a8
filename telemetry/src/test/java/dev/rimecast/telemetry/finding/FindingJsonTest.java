package dev.rimecast.telemetry.finding;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.log.MalformedRecordException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class FindingJsonTest {
    private static final Instant AT = Instant.parse("2026-05-04T00:00:12.010Z");
    private static final UUID ID = UUID.fromString("2ed6657d-e927-568b-95e1-2665a8aea6a2");

    private static final Finding WHOLE = new Finding(
            ID,
            3,
            Finding.Step.UPDATED,
            "harbour",
            Optional.of("ice-0007"),
            Optional.empty(),
            Condition.RISING_CONDENSING_TEMPERATURE,
            Stage.AT_LIMIT,
            Priority.HIGH,
            AT,
            AT.minusSeconds(3600),
            List.of(
                    new Finding.ProbableCause(
                            Cause.AIRFLOW_RESTRICTED, 0.7, List.of("split is 6 K above"), List.of("no step")),
                    new Finding.ProbableCause(Cause.FAN_WEAK, 0.2, List.of(), List.of())),
            Optional.of(new Finding.Measure("split", "K", 24.5, OptionalDouble.of(18.25), OptionalDouble.empty())),
            Optional.of(new Finding.LimitExpected(AT.plusSeconds(90), AT.plusSeconds(30), AT.plusSeconds(300))),
            "The condenser runs 6 \u00b0C \u201chotter\u201d",
            "d1",
            "p1",
            Inquiry.NONE,
            List.of(
                    new Ground("features.split.material", 1.5, "K", Ground.Source.MODEL_GROUP),
                    new Ground("limits.condensing_celsius", 62, "Cel", Ground.Source.REGISTER)));

    private static final Finding OF_GATEWAY = new Finding(
            ID,
            1,
            Finding.Step.RAISED,
            "harbour",
            Optional.empty(),
            Optional.of("gw-1"),
            Condition.GATEWAY_SILENT,
            Stage.STOPPED,
            Priority.LOW,
            AT,
            AT,
            List.of(),
            Optional.empty(),
            Optional.empty(),
            "Nothing heard for 15 minutes",
            "d1",
            "p1");

    @Test
    void decode_encodedFinding_givesTheFinding() {
        assertThat(FindingJson.decode(FindingJson.encode(WHOLE))).isEqualTo(WHOLE);
        assertThat(FindingJson.decode(FindingJson.encode(OF_GATEWAY))).isEqualTo(OF_GATEWAY);
    }

    @Test
    void encode_findingAboutAGateway_hasCodesAndNoAbsentField() {
        assertThat(new String(FindingJson.encode(OF_GATEWAY), UTF_8))
                .isEqualTo("{\"v\":1,\"id\":\"2ed6657d-e927-568b-95e1-2665a8aea6a2\",\"revision\":1,"
                        + "\"step\":\"raised\",\"site\":\"harbour\",\"gateway\":\"gw-1\","
                        + "\"condition\":\"gateway-silent\",\"stage\":\"stopped\",\"priority\":\"low\","
                        + "\"at\":\"2026-05-04T00:00:12.010Z\",\"raised_at\":\"2026-05-04T00:00:12.010Z\","
                        + "\"summary\":\"Nothing heard for 15 minutes\","
                        + "\"detector_version\":\"d1\",\"policy_version\":\"p1\"}");
    }

    @Test
    void encode_grounds_standAtTheEndWithTheirSource() {
        assertThat(new String(FindingJson.encode(WHOLE), UTF_8))
                .endsWith(
                        ",\"grounds\":["
                                + "{\"entry\":\"features.split.material\",\"value\":1.5,\"unit\":\"K\",\"source\":\"model-group\"},"
                                + "{\"entry\":\"limits.condensing_celsius\",\"value\":62.0,\"unit\":\"Cel\",\"source\":\"register\"}]}");
    }

    @Test
    void withGroundsOf_aRevisionWithoutItsOwn_keepsThoseBefore() {
        Finding ended = WHOLE.withGrounds(List.of());

        assertThat(ended.withGroundsOf(WHOLE)).isEqualTo(WHOLE);
        assertThat(WHOLE.withGroundsOf(OF_GATEWAY)).isEqualTo(WHOLE);
    }

    @Test
    void decode_fieldsOfANewerWriter_areIgnored() {
        String json = new String(FindingJson.encode(WHOLE), UTF_8).replace("\"cause\":", "\"odds\":[1],\"cause\":");

        assertThat(FindingJson.decode(json.getBytes(UTF_8))).isEqualTo(WHOLE);
    }

    @Test
    void decode_cutOffAnywhere_isMalformed() {
        byte[] whole = FindingJson.encode(WHOLE);
        for (int length = 0; length < whole.length; length++) {
            byte[] part = Arrays.copyOf(whole, length);
            assertThatThrownBy(() -> FindingJson.decode(part)).isInstanceOf(MalformedRecordException.class);
        }
    }

    @Test
    void decode_fieldThatDoesNotFit_isNamed() {
        assertMalformed("fan-weak", "gremlins", "unknown code 'gremlins' at field causes[1].cause");
        assertMalformed("\"value\":24.5,", "", "nothing at field measure.value");
        assertMalformed("\"revision\":3", "\"revision\":0", "revision counts from 1, was 0 at the record");
        assertMalformed("updated", "UPDATED", "unknown code 'UPDATED' at field step");
    }

    private static void assertMalformed(String original, String replacement, String message) {
        String json = new String(FindingJson.encode(WHOLE), UTF_8);
        assertThat(json).contains(original);
        byte[] changed = json.replace(original, replacement).getBytes(UTF_8);
        assertThatThrownBy(() -> FindingJson.decode(changed))
                .isInstanceOf(MalformedRecordException.class)
                .hasMessage(message);
    }
}
