package dev.rimecast.telemetry.senml;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Instant;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SenmlCborDecoderTest {
    private static final Instant NOW = Instant.parse("2026-05-04T00:00:12.010Z");
    /** {@code 0: "a/ice_mass"}, name. */
    private static final String NAME = "00 6a 612f6963655f6d617373";

    @ParameterizedTest
    @CsvSource({
        // Encodings and values: RFC 8949 appendix A.
        "00, 0",
        "01, 1",
        "1864, 100",
        "1903e8, 1000",
        "1a000f4240, 1000000",
        "1b000000e8d4a51000, 1000000000000",
        "1bffffffffffffffff, 18446744073709551615",
        "f93c00, 1",
        "f93e00, 1.5",
        "f97bff, 65504",
        "f90001, 5.960464477539063e-8",
        "f90400, 0.00006103515625",
        "fa47c35000, 100000",
        "fa7f7fffff, 3.4028234663852886e+38",
        "fb3ff199999999999a, 1.1",
        "fb7e37e43c8800759c, 1.0e+300",
        "c48221196ab3, 273.15", // tag 4, decimal fraction
        "d81801, 1", // a tag that means nothing here
    })
    void decode_number_isThatOfTheStandard(String hex, double expected) {
        assertThat(decoded("81 a2" + NAME + "02" + hex).readings())
                .containsExactly(Reading.number("a", Channel.ICE_MASS, NOW.toEpochMilli(), expected));
    }

    @ParameterizedTest
    @CsvSource({"20, -1", "3903e7, -1000", "f9c400, -4", "fbc010666666666666, -4.1", "3863, -100"})
    void decode_negativeNumber_isThatOfTheStandard(String hex, double expected) {
        // RFC 8949 appendix A. 0: "a/water_temperature"
        String name = "00 73 612f77617465725f74656d7065726174757265";

        assertThat(decoded("81 a2" + name + "02" + hex).readings().get(0).value())
                .isEqualTo(expected, within(0.0));
    }

    @ParameterizedTest
    @CsvSource({
        "f97c00, not-a-number", // infinity
        "f97e00, not-a-number", // NaN
        "faff800000, not-a-number",
        "fb7ff8000000000000, not-a-number",
        "c4821a7fffffff01, not-a-number", // 1 × 10^2147483647
        "f6, wrong-value-type", // null
        "f5, wrong-value-type", // true where a number should be
        "6131, wrong-value-type", // "1"
        "4131, wrong-value-type", // bytes
        "c249010000000000000000, wrong-value-type", // bignum 2^64
        "8101, wrong-value-type",
        "c48101, wrong-value-type",
        "c4820061 31, wrong-value-type",
        "a10102, wrong-value-type",
    })
    void decode_badValue_isRejectedWithItsReasonAndSpoilsNoOther(String hex, String reason) {
        String good = "a2" + NAME + "0201";

        SenmlPack.Decoded pack = decoded("83" + good + "a2" + NAME + "02" + hex + good);

        assertThat(pack.readings()).hasSize(2);
        assertThat(pack.rejected()).hasSize(1);
        assertThat(pack.rejected().get(0).recordIndex()).isEqualTo(1);
        assertThat(pack.rejected().get(0).reason().code()).isEqualTo(reason);
    }

    @Test
    void decode_flagsAndTexts_giveReadings() {
        // [{-2: "a/", 0: "bin_full", 4: true}, {0: "drain_level", 4: false}, {"n": "phase", "vs": "freeze"}]
        SenmlPack.Decoded pack = decoded("83 a3 21 62612f 00 6862696e5f66756c6c 04 f5"
                + "a2 00 6b647261696e5f6c6576656c 04 f4"
                + "a2 616e 657068617365 627673 66667265657a65");

        assertThat(pack.readings())
                .extracting(Reading::channel, Reading::value)
                .containsExactly(
                        org.assertj.core.groups.Tuple.tuple(Channel.BIN_FULL, 1.0),
                        org.assertj.core.groups.Tuple.tuple(Channel.DRAIN_LEVEL, 0.0),
                        org.assertj.core.groups.Tuple.tuple(Channel.PHASE, 2.0));
    }

    @Test
    void decode_indefiniteArrayAndMap_areRead() {
        // RFC 8428 section 6: a stream of records should be of indefinite length.
        SenmlPack.Decoded pack = decoded("9f bf" + NAME + "0201ff a2" + NAME + "0202 ff");

        assertThat(pack.readings()).extracting(Reading::value).containsExactly(1.0, 2.0);
    }

    @Test
    void decode_unknownLabels_areIgnoredWithWhatTheyHold() {
        // 9: [1, {2: 3}], "x": indefinite text, -20: indefinite bytes, h'00': 1, and self-described CBOR around it all.
        SenmlPack.Decoded pack =
                decoded("d9d9f7 81 a6 09 8201a10203 6178 7f61616162ff 33 5f4101ff 4100 01" + NAME + "0201");

        assertThat(pack.readings()).extracting(Reading::value).containsExactly(1.0);
        assertThat(pack.rejected()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({
        "'', not-senml",
        "80, not-senml", // no record
        "a0, not-senml",
        "ff, not-senml",
        "81ff, not-senml",
        "81, not-senml",
        "9bffffffffffffffff, not-senml", // 2^64 - 1 records
        "9b7fffffffffffffff, not-senml",
        "9affffffff, not-senml",
        "81bb7fffffffffffffff, not-senml",
        "81a1007b7fffffffffffffff, not-senml", // a text of 2^63 - 1 bytes
        "81a1007affffffff, not-senml",
        "81a10062c328, not-senml", // not UTF-8
        "81a1007f6161ff, not-senml", // a name without length
        "81a1001c, not-senml", // a reserved head
        "81a121f6, not-senml", // bn: null
        "81a122f97e00, not-a-number", // bt: NaN
        "81a1200b, bad-base-version", // bver 11
        "81a161785f00, not-senml",
        "81a162785f00, must-understand-label", // "x_"
    })
    void decode_badPack_isRefusedWhole(String hex, String reason) {
        SenmlPack pack = SenmlCborDecoder.decode(HexFormat.of().parseHex(hex), NOW);

        assertThat(pack)
                .isInstanceOfSatisfying(
                        SenmlPack.Refused.class,
                        refused -> assertThat(refused.reason().code()).isEqualTo(reason));
    }

    @ParameterizedTest
    @ValueSource(strings = {"81", "a100", "c1", "9f"})
    void decode_deepNesting_isTooLarge(String opening) {
        byte[] payload = HexFormat.of().parseHex("81a109" + opening.repeat(100_000 / opening.length()));

        assertThat(SenmlCborDecoder.decode(payload, NOW))
                .isInstanceOfSatisfying(
                        SenmlPack.Refused.class,
                        refused -> assertThat(refused.reason()).isEqualTo(RejectReason.TOO_LARGE));
    }

    @Test
    void decode_cutOffAnywhere_isRefused() {
        byte[] whole = SenmlCborEncoder.encode(List.of(
                Reading.number("ice-0007", Channel.ICE_MASS, 1_777_800_000_000L, 1.5),
                Reading.text("ice-0008", Channel.CONTROLLER_STATUS, 1_777_800_000_250L, "\u00fc")));
        for (int length = 0; length < whole.length; length++) {
            assertThat(SenmlCborDecoder.decode(Arrays.copyOf(whole, length), NOW))
                    .as("first %d of %d bytes", length, whole.length)
                    .isInstanceOfSatisfying(
                            SenmlPack.Refused.class,
                            refused -> assertThat(refused.reason()).isEqualTo(RejectReason.NOT_SENML));
        }
    }

    private static SenmlPack.Decoded decoded(String hex) {
        byte[] payload = HexFormat.of().parseHex(hex.replace(" ", ""));
        return (SenmlPack.Decoded) SenmlCborDecoder.decode(payload, NOW);
    }
}
