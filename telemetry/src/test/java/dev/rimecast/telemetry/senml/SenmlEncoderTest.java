package dev.rimecast.telemetry.senml;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import tools.jackson.dataformat.cbor.CBORMapper;

class SenmlEncoderTest {
    private static final Instant NOW = Instant.parse("2026-05-04T00:00:12.010Z");

    @Test
    void encode_json_saysMachineAndTimeOnce() {
        assertThat(new String(SenmlJsonEncoder.encode(Packs.OF_TWO_MACHINES), UTF_8))
                .isEqualTo(
                        "[{\"bn\":\"ice-0007/\",\"bt\":1777800000,\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":-6.4},"
                                + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":41.8},"
                                + "{\"n\":\"phase\",\"vs\":\"freeze\"},"
                                + "{\"n\":\"bin_full\",\"vb\":false},"
                                + "{\"bn\":\"ice-0008/\",\"bt\":1777800000.02,\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":3.1},"
                                + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":38},"
                                + "{\"n\":\"drain_run_time\",\"t\":-12,\"u\":\"s\",\"v\":2.3},"
                                + "{\"n\":\"controller_status\",\"t\":1,\"vs\":\"E4 \u00fc \\\"x\\\"\"}]");
    }

    @Test
    void encode_cbor_isCborToAnotherReader() {
        // Oracle: jackson-dataformat-cbor 3.1.7.
        String json = new CBORMapper()
                .readTree(SenmlCborEncoder.encode(Packs.OF_TWO_MACHINES.subList(4, 8)))
                .toString();

        assertThat(json)
                .isEqualTo(
                        "[{\"-2\":\"ice-0008/\",\"-3\":1.77780000002E9,\"0\":\"evaporator_temperature\",\"1\":\"Cel\",\"2\":3.1},"
                                + "{\"0\":\"condenser_temperature\",\"1\":\"Cel\",\"2\":38},"
                                + "{\"0\":\"drain_run_time\",\"6\":-12,\"1\":\"s\",\"2\":2.3},"
                                + "{\"0\":\"controller_status\",\"6\":1,\"3\":\"E4 \u00fc \\\"x\\\"\"}]");
    }

    @Test
    void encode_cbor_isSmallerThanJson() {
        int json = SenmlJsonEncoder.encode(Packs.OF_TWO_MACHINES).length;

        assertThat(SenmlCborEncoder.encode(Packs.OF_TWO_MACHINES)).hasSizeLessThan(json * 3 / 4);
    }

    @Test
    void decode_encodedPack_givesItsReadings() {
        long seed = 8428;
        Random random = new Random(seed);
        for (int round = 0; round < 1_000; round++) {
            List<Reading> readings = Packs.random(random);
            SenmlPack expected = new SenmlPack.Decoded(readings, List.of(), 0);
            assertThat(SenmlJsonDecoder.decode(SenmlJsonEncoder.encode(readings), NOW))
                    .as("JSON, seed %d round %d", seed, round)
                    .isEqualTo(expected);
            assertThat(SenmlCborDecoder.decode(SenmlCborEncoder.encode(readings), NOW))
                    .as("CBOR, seed %d round %d", seed, round)
                    .isEqualTo(expected);
        }
    }

    @Test
    void encode_exponent_isInLowerCase() {
        // RFC 8428 section 5: "If the value has an exponent, the 'e' MUST be in lower case."
        byte[] json = SenmlJsonEncoder.encode(List.of(Reading.number("a", Channel.ICE_MASS, Packs.AT, 1.5e-7)));

        assertThat(new String(json, UTF_8)).contains("\"v\":1.5e-7}");
    }

    @Test
    void encode_readingsThatFitNoPack_areRefused() {
        Reading early = Reading.number("a", Channel.ICE_MASS, 268_435_455_999L, 1);
        Reading good = Reading.number("a", Channel.ICE_MASS, 268_435_456_000L, 1);

        assertThatThrownBy(() -> SenmlJsonEncoder.encode(List.of(early))).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> SenmlCborEncoder.encode(List.of())).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> SenmlCborEncoder.encode(Collections.nCopies(501, good)))
                .isInstanceOf(IllegalArgumentException.class);
        assertThat(SenmlJsonDecoder.decode(SenmlJsonEncoder.encode(Collections.nCopies(500, good)), NOW))
                .isInstanceOf(SenmlPack.Decoded.class);
    }
}
