package dev.rimecast.telemetry.senml;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SenmlJsonDecoderTest {
    private static final Instant NOW = Instant.parse("2026-05-04T00:00:12.010Z");
    private static final long AT = 1_777_800_000_000L;

    @Test
    void decode_packOfTheContract_givesItsReadings() {
        // The example in contract, section 3: two machines in one pack.
        SenmlPack.Decoded pack = decoded("""
                [{"bn":"ice-0007/","bt":1777800000,"n":"evaporator_temperature","u":"Cel","v":-6.4},
                 {"n":"condenser_temperature","u":"Cel","v":41.8},
                 {"n":"phase","vs":"freeze"},
                 {"bn":"ice-0008/","bt":1777800000,"n":"evaporator_temperature","u":"Cel","v":3.1},
                 {"n":"condenser_temperature","u":"Cel","v":38.0},
                 {"n":"drain_run_time","u":"s","t":-12,"v":2.3}]""");

        assertThat(pack.readings())
                .containsExactly(
                        Reading.number("ice-0007", Channel.EVAPORATOR_TEMPERATURE, AT, -6.4),
                        Reading.number("ice-0007", Channel.CONDENSER_TEMPERATURE, AT, 41.8),
                        Reading.phase("ice-0007", AT, Phase.FREEZE),
                        Reading.number("ice-0008", Channel.EVAPORATOR_TEMPERATURE, AT, 3.1),
                        Reading.number("ice-0008", Channel.CONDENSER_TEMPERATURE, AT, 38),
                        Reading.number("ice-0008", Channel.DRAIN_RUN_TIME, AT - 12_000, 2.3));
        assertThat(pack.rejected()).isEmpty();
        assertThat(pack.lenientUnits()).isZero();
    }

    @Test
    void decode_flagAndText_giveReadings() {
        SenmlPack.Decoded pack = decoded("""
                [{"bn":"ice-0007/","bt":1777800000,"bu":"Cel","n":"bin_full","vb":true},
                 {"n":"drain_level","vb":false},
                 {"n":"controller_status","vs":"E4 \\u00fc"}]""");

        assertThat(pack.readings())
                .containsExactly(
                        Reading.flag("ice-0007", Channel.BIN_FULL, AT, true),
                        Reading.flag("ice-0007", Channel.DRAIN_LEVEL, AT, false),
                        Reading.text("ice-0007", Channel.CONTROLLER_STATUS, AT, "E4 \u00fc"));
        assertThat(pack.rejected()).isEmpty();
    }

    @Test
    void decode_badRecordBetweenGoodOnes_leavesThemAndItsBaseFieldsHold() {
        SenmlPack.Decoded pack = decoded("""
                [{"bn":"ice-0007/","bt":1777800000,"n":"evaporator_temperature","v":-6.4},
                 {"bn":"ice-0008/","bt":1777800060,"n":"evaporator_temperature","v":"warm"},
                 {"n":"condenser_temperature","v":38}]""");

        assertThat(pack.readings())
                .containsExactly(
                        Reading.number("ice-0007", Channel.EVAPORATOR_TEMPERATURE, AT, -6.4),
                        Reading.number("ice-0008", Channel.CONDENSER_TEMPERATURE, AT + 60_000, 38));
        assertThat(pack.rejected())
                .containsExactly(new SenmlPack.Rejected(1, RejectReason.WRONG_VALUE_TYPE, "v is not a number"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{'v':1}                                             | no-name",
                "{}                                                  | no-name",
                "{'n':'a/phase'}                                     | no-value",
                "{'n':'a/ice_mass','s':1}                            | no-value",
                "{'n':'a/bin_full','vb':true,'v':1}                  | several-values",
                "{'n':'a/ice_mass','v':1,'v':2}                      | several-values",
                "{'n':'a/ice_mass','n':'b/ice_mass','v':1}           | not-senml",
                "{'n':'a/ice_mass','v':1e999}                        | not-a-number",
                "{'n':'a/ice_mass','v':-1e999}                       | not-a-number",
                "{'n':'a/ice_mass','t':1e999,'v':1}                  | not-a-number",
                "{'n':'a/ice_mass','v':null}                         | wrong-value-type",
                "{'n':'a/ice_mass','v':[1]}                          | wrong-value-type",
                "{'n':'a/ice_mass','vs':'1'}                         | wrong-value-type",
                "{'n':'a/ice_mass','vd':'MQ'}                        | wrong-value-type",
                "{'n':'a/bin_full','v':1}                            | wrong-value-type",
                "{'n':'a/bin_full','vs':'true'}                      | wrong-value-type",
                "{'n':'a/phase','v':2}                               | wrong-value-type",
                "{'n':'a/controller_status','vb':true}               | wrong-value-type",
                "{'n':5,'v':1}                                       | not-senml",
                "{'n':'a/ice_mass','u':5,'v':1}                      | not-senml",
                "{'n':'a/ice_mass','t':'now','v':1}                  | not-senml",
                "5                                                   | not-senml",
                "[{'n':'a/ice_mass','v':1}]                          | not-senml",
                "{'n':'ice_mass','v':1}                              | bad-name",
                "{'n':'/ice_mass','v':1}                             | bad-name",
                "{'n':'A/ice_mass','v':1}                            | bad-name",
                "{'n':'a/','v':1}                                    | unknown-channel",
                "{'n':'a/b/ice_mass','v':1}                          | unknown-channel",
                "{'n':'a/ICE_MASS','v':1}                            | unknown-channel",
                "{'n':'a/ice_mass','u':'lb','v':1}                   | unknown-unit",
                "{'n':'a/ice_mass','u':'s','v':1}                    | unknown-unit",
                "{'n':'a/freeze_time','u':'mA','v':1}                | unknown-unit",
                "{'n':'a/supply_current','u':'Cel','v':1}            | unknown-unit",
                "{'n':'a/bin_full','u':'count','vb':true}            | unknown-unit",
                "{'n':'a/ambient_temperature','u':'F','v':70}        | fahrenheit",
                "{'n':'a/ambient_temperature','u':'degF','v':70}     | fahrenheit",
                "{'n':'a/ambient_temperature','u':'\u00b0F','v':70}  | fahrenheit",
                "{'n':'a/supply_current','u':'F','v':70}             | unknown-unit",
                "{'n':'a/freeze_time','v':-1}                        | out-of-range",
                "{'n':'a/water_volume','v':-0.1}                     | out-of-range",
                "{'n':'a/phase','vs':'Freeze'}                       | out-of-range",
                "{'n':'a/ice_mass','t':-1e12,'v':1}                  | out-of-range",
                "{'n':'a/ice_mass','t':1e12,'v':1}                   | out-of-range",
                "{'n':'a/ice_mass','t':1e300,'v':1}                  | out-of-range",
            })
    void decode_badRecord_isRejectedWithItsReasonAndSpoilsNoOther(String bad, String reason) {
        String good = "{\"n\":\"ice-0007/ice_mass\",\"v\":1}";

        SenmlPack.Decoded pack = decoded("[" + good + "," + bad.replace('\'', '"') + "," + good + "]");

        assertThat(pack.readings()).hasSize(2);
        assertThat(pack.rejected()).hasSize(1);
        assertThat(pack.rejected().get(0).recordIndex()).isEqualTo(1);
        assertThat(pack.rejected().get(0).reason().code()).isEqualTo(reason);
    }

    @Test
    void decode_firstRecordWithoutMachine_isRejected() {
        assertThat(decoded("[{\"bn\":\"/\",\"n\":\"bin_full\",\"vb\":true}]").rejected())
                .extracting(SenmlPack.Rejected::reason)
                .containsExactly(RejectReason.BAD_NAME);
    }

    @Test
    void decode_fahrenheit_saysSo() {
        SenmlPack.Decoded pack = decoded("[{\"n\":\"a/ambient_temperature\",\"u\":\"degF\",\"v\":70}]");

        assertThat(pack.rejected().get(0).detail())
                .isEqualTo("unit 'degF': SenML has no Fahrenheit, convert to Cel at the gateway");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "''                                                     | not-senml",
                "{'n':'a/ice_mass','v':1}                               | not-senml",
                "[]                                                     | not-senml",
                "[{'n':'a/ice_mass','v':1}                              | not-senml",
                "[{'n':'a/ice_mass','v':1}] 1                           | not-senml",
                "[{'n':'a/ice_mass','v':NaN}]                           | not-senml",
                "[{'n':'a/ice_mass','v':1},{'n':'a/ice_mass','v':1,}]   | not-senml",
                "[{'bn':5,'n':'a/ice_mass','v':1}]                      | not-senml",
                "[{'bt':'now','n':'a/ice_mass','v':1}]                  | not-senml",
                "[{'bt':1e999,'n':'a/ice_mass','v':1}]                  | not-a-number",
                "[{'bn':'a/','bn':'b/','n':'ice_mass','v':1}]           | not-senml",
                "[{'n':'a/ice_mass','v':1,'new_':1}]                    | must-understand-label",
                "[{'n':'a/ice_mass','v':1},{'n':'a/ice_mass','v':1,'b_':{}}] | must-understand-label",
                "[{'bver':11,'n':'a/ice_mass','v':1}]                   | bad-base-version",
                "[{'bver':42,'n':'a/ice_mass','v':1}]                   | bad-base-version",
                "[{'bver':0,'n':'a/ice_mass','v':1}]                    | bad-base-version",
                "[{'bver':9.5,'n':'a/ice_mass','v':1}]                  | bad-base-version",
                "[{'bver':10,'n':'a/ice_mass','v':1},{'bver':26,'n':'a/ice_mass','v':1}] | bad-base-version",
                "[{'n':'a/ice_mass','v':1},{'bver':26,'n':'a/ice_mass','v':1}] | bad-base-version",
            })
    void decode_badPack_isRefusedWhole(String payload, String reason) {
        SenmlPack pack = SenmlJsonDecoder.decode(payload.replace('\'', '"').getBytes(UTF_8), NOW);

        assertThat(pack)
                .isInstanceOfSatisfying(
                        SenmlPack.Refused.class,
                        refused -> assertThat(refused.reason().code()).isEqualTo(reason));
    }

    @Test
    void decode_unknownLabels_areIgnoredWithWhatTheyHold() {
        SenmlPack.Decoded pack = decoded(
                "[{\"x\":{\"v\":[1,{\"n\":2}]},\"n\":\"a/ice_mass\",\"ct\":\"60\",\"v\":1,\"ut\":60,\"l\":null}]");

        assertThat(pack.readings()).containsExactly(Reading.number("a", Channel.ICE_MASS, NOW.toEpochMilli(), 1));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\"bver\":10,", "\"bver\":5,"})
    void decode_secondaryUnitsUnannounced_areConvertedAndCounted(String version) {
        SenmlPack.Decoded pack = decoded("[{" + version + "\"bn\":\"a/\",\"n\":\"freeze_time\",\"u\":\"min\",\"v\":21},"
                + "{\"n\":\"supply_current\",\"u\":\"mA\",\"v\":3215},{\"n\":\"harvest_time\",\"u\":\"s\",\"v\":98}]");

        assertThat(pack.readings()).extracting(Reading::value).containsExactly(1260.0, 3.215, 98.0);
        assertThat(pack.lenientUnits()).isEqualTo(2);
    }

    @Test
    void decode_secondaryUnitsAnnounced_areNotCounted() {
        SenmlPack.Decoded pack =
                decoded("[{\"bver\":26,\"bn\":\"a/\",\"bu\":\"ms\",\"n\":\"drain_level_time\",\"v\":2300}]");

        assertThat(pack.readings()).extracting(Reading::value).containsExactly(2.3);
        assertThat(pack.lenientUnits()).isZero();
    }

    @ParameterizedTest
    @CsvSource({
        // Scales: RFC 8798 section 3 (checked against its authors' working repository); l and g: RFC 8428 section 12.1.
        "freeze_time, min, 1.5, 90",
        "freeze_time, h, 0.5, 1800",
        "freeze_time, ms, 1285, 1.285",
        "supply_current, mA, 250, 0.25",
        "water_volume, l, 1234.5, 1.2345",
        "water_volume, m3, 1.25, 1.25",
        "ice_mass, g, 500, 0.5",
        "ambient_temperature, K, 273.15, 0",
    })
    void decode_unitOfTheSameQuantity_isConverted(String channel, String unit, double value, double expected) {
        SenmlPack.Decoded pack = decoded("[{\"n\":\"a/" + channel + "\",\"u\":\"" + unit + "\",\"v\":" + value + "}]");

        assertThat(pack.readings()).extracting(Reading::value).containsExactly(expected);
    }

    @Test
    void decode_500Records_isTakenAnd501AreNot() {
        String record = "{\"n\":\"a/ice_mass\",\"v\":1}";

        assertThat(decoded("[" + (record + ",").repeat(499) + record + "]").readings())
                .hasSize(500);
        assertRefused("[" + (record + ",").repeat(500) + record + "]", RejectReason.TOO_MANY_RECORDS);
    }

    @Test
    void decode_payloadOver256KiB_isTooLarge() {
        String record = "[{\"n\":\"a/ice_mass\",\"v\":1}]";
        String padding = " ".repeat(256 * 1024 - record.length());

        assertThat(decoded(record + padding).readings()).hasSize(1);
        assertRefused(record + padding + " ", RejectReason.TOO_LARGE);
    }

    @Test
    void decode_deepNesting_isTooLarge() {
        String deep = "[".repeat(10_000) + "]".repeat(10_000);

        assertRefused("[{\"n\":\"a/ice_mass\",\"v\":1,\"x\":" + deep + "}]", RejectReason.TOO_LARGE);
        assertRefused(deep, RejectReason.TOO_LARGE);
    }

    @Test
    void decode_veryLongText_isTooLarge() {
        assertRefused(
                "[{\"n\":\"a/controller_status\",\"vs\":\"" + "x".repeat(70_000) + "\"}]", RejectReason.TOO_LARGE);
        assertRefused("[{\"n\":\"a/ice_mass\",\"v\":1" + "0".repeat(40) + "}]", RejectReason.TOO_LARGE);
    }

    @Test
    void decode_longStatus_isOutOfRange() {
        String status = "x".repeat(257);

        assertThat(decoded("[{\"n\":\"a/controller_status\",\"vs\":\"" + status + "\"}]")
                        .rejected())
                .extracting(SenmlPack.Rejected::reason)
                .containsExactly(RejectReason.OUT_OF_RANGE);
    }

    @Test
    void decode_controlCharactersInAName_areNotRepeatedInTheDetail() {
        String detail = decoded("[{\"n\":\"a\\n\\u2028ERROR\",\"v\":1}]")
                .rejected()
                .get(0)
                .detail();

        assertThat(detail).isEqualTo("name 'a??ERROR' is not {machine}/{channel}");
    }

    private static SenmlPack.Decoded decoded(String json) {
        return (SenmlPack.Decoded) SenmlJsonDecoder.decode(json.getBytes(UTF_8), NOW);
    }

    private static void assertRefused(String json, RejectReason reason) {
        assertThat(SenmlJsonDecoder.decode(json.getBytes(UTF_8), NOW))
                .isInstanceOfSatisfying(
                        SenmlPack.Refused.class,
                        refused -> assertThat(refused.reason()).isEqualTo(reason));
    }
}
