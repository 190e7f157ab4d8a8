package dev.rimecast.telemetry.senml;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The examples of RFC 8428. The texts of section 5.1 were compared with a public test suite that quotes the RFC, those of
 * sections 5.1.4 and 6 with the generated files of its authors' working repository; section numbers are from memory.
 */
class StandardExamplesTest {
    private static final Instant NOW = Instant.parse("2026-05-04T00:00:12.010Z");
    private static final String DEVICE = "urn:dev:ow:10e2073a01080063";

    /** Section 5.1.3, and as CBOR section 6. */
    private static final String VOLTAGE_AND_CURRENT = """
            [{"bn":"urn:dev:ow:10e2073a0108006:","bt":1.276020076001e+09,
              "bu":"A","bver":5,
              "n":"voltage","u":"V","v":120.1},
             {"n":"current","t":-5,"v":1.2},
             {"n":"current","t":-4,"v":1.3},
             {"n":"current","t":-3,"v":1.4},
             {"n":"current","t":-2,"v":1.5},
             {"n":"current","t":-1,"v":1.6},
             {"n":"current","v":1.7}]""";

    private static final String VOLTAGE_AND_CURRENT_CBOR = "87 a7 21 78 1b 75 72 6e 3a 64 65 76 3a 6f 77 3a"
            + "31 30 65 32 30 37 33 61 30 31 30 38 30 30 36 3a 22 fb 41 d3 03 a1 5b 00 10 62 23 61 41 20 05 00"
            + "67 76 6f 6c 74 61 67 65 01 61 56 02 fb 40 5e 06 66 66 66 66 66 a3 00 67 63 75 72 72 65 6e 74 06"
            + "24 02 fb 3f f3 33 33 33 33 33 33 a3 00 67 63 75 72 72 65 6e 74 06 23 02 fb 3f f4 cc cc cc cc cc"
            + "cd a3 00 67 63 75 72 72 65 6e 74 06 22 02 fb 3f f6 66 66 66 66 66 66 a3 00 67 63 75 72 72 65 6e"
            + "74 06 21 02 f9 3e 00 a3 00 67 63 75 72 72 65 6e 74 06 20 02 fb 3f f9 99 99 99 99 99 9a a3 00 67"
            + "63 75 72 72 65 6e 74 06 00 02 fb 3f fb 33 33 33 33 33 33";

    @Test
    void resolve_singleDatapoint_isNow() {
        assertThat(Resolved.json("[{\"n\":\"urn:dev:ow:10e2073a01080063\",\"u\":\"Cel\",\"v\":23.1}]", NOW))
                .containsExactly(number(DEVICE, "Cel", true, NOW.toEpochMilli(), 23.1));
    }

    @Test
    void resolve_multipleDatapoints_shareTheBaseName() {
        String json = """
                [{"bn":"urn:dev:ow:10e2073a01080063:","n":"voltage","u":"V","v":120.1},
                 {"n":"current","u":"A","v":1.2}]""";

        assertThat(Resolved.json(json, NOW))
                .containsExactly(
                        number(DEVICE + ":voltage", "V", true, NOW.toEpochMilli(), 120.1),
                        number(DEVICE + ":current", "A", true, NOW.toEpochMilli(), 1.2));
    }

    @Test
    void resolve_currentOfSixSeconds_hasBaseUnitAndTimesBeforeTheBase() {
        assertVoltageAndCurrent(Resolved.json(VOLTAGE_AND_CURRENT, NOW));
    }

    @Test
    void resolve_cborExample_equalsTheJsonExample() {
        assertVoltageAndCurrent(Resolved.cbor(VOLTAGE_AND_CURRENT_CBOR, NOW));
    }

    private static void assertVoltageAndCurrent(List<SenmlRecord> records) {
        // "Tue Jun 8 18:01:16.001 UTC 2010", as the RFC says in words.
        long base = Instant.parse("2010-06-08T18:01:16.001Z").toEpochMilli();
        String current = "urn:dev:ow:10e2073a0108006:current";

        assertThat(records)
                .containsExactly(
                        at(5, "urn:dev:ow:10e2073a0108006:voltage", "V", true, base, 120.1),
                        at(5, current, "A", false, base - 5000, 1.2),
                        at(5, current, "A", false, base - 4000, 1.3),
                        at(5, current, "A", false, base - 3000, 1.4),
                        at(5, current, "A", false, base - 2000, 1.5),
                        at(5, current, "A", false, base - 1000, 1.6),
                        at(5, current, "A", false, base, 1.7));
    }

    @Test
    void resolve_multipleMeasurements_equalTheResolvedFormOfTheStandard() {
        String json = """
                [{"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,
                  "bu":"%RH","v":20},
                 {"u":"lon","v":24.30621},
                 {"u":"lat","v":60.07965},
                 {"t":60,"v":20.3},
                 {"u":"lon","t":60,"v":24.30622},
                 {"u":"lat","t":60,"v":60.07965},
                 {"t":120,"v":20.7},
                 {"u":"lon","t":120,"v":24.30623},
                 {"u":"lat","t":120,"v":60.07966},
                 {"u":"%EL","t":150,"v":98},
                 {"t":180,"v":21.2},
                 {"u":"lon","t":180,"v":24.30628},
                 {"u":"lat","t":180,"v":60.07967}]""";
        String resolved = """
                [{"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067464e+09,"v":20},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067464e+09,"v":24.30621},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067464e+09,"v":60.07965},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067524e+09,"v":20.3},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067524e+09,"v":24.30622},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067524e+09,"v":60.07965},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067584e+09,"v":20.7},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067584e+09,"v":24.30623},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067584e+09,"v":60.07966},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"%EL","t":1.320067614e+09,"v":98},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067644e+09,"v":21.2},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067644e+09,"v":24.30628},
                 {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067644e+09,"v":60.07967}]""";

        List<SenmlRecord> records = Resolved.json(json, NOW);

        assertThat(records)
                .usingRecursiveFieldByFieldElementComparatorIgnoringFields("hasOwnUnit")
                .containsExactlyElementsOf(Resolved.json(resolved, NOW));
        // "starting at Mon Oct 31 13:24:24 UTC 2011"
        assertThat(records.get(0))
                .isEqualTo(number(
                        DEVICE,
                        "%RH",
                        false,
                        Instant.parse("2011-10-31T13:24:24Z").toEpochMilli(),
                        20));
    }

    @Test
    void resolve_multipleDataTypes_keepTheirTypes() {
        String json = """
                [{"bn":"urn:dev:ow:10e2073a01080063:","n":"temp","u":"Cel","v":23.1},
                 {"n":"label","vs":"Machine Room"},
                 {"n":"open","vb":false},
                 {"n":"nfc-reader","vd":"aGkgCg"}]""";

        assertThat(Resolved.json(json, NOW))
                .extracting(SenmlRecord::value)
                .containsExactly(
                        new SenmlValue.Number(23.1),
                        new SenmlValue.Text("Machine Room"),
                        new SenmlValue.Flag(false),
                        new SenmlValue.Data());
    }

    @Test
    void resolve_collectionOfResources_lastRecordHasNameOfTheThirdAndTimeOfTheFirst() {
        String json = """
                [{"bn":"2001:db8::2/","bt":1.320078429e+09,
                  "n":"temperature","u":"Cel","v":25.2},
                 {"n":"humidity","u":"%RH","v":30},
                 {"bn":"2001:db8::1/","n":"temperature","u":"Cel","v":12.3},
                 {"n":"humidity","u":"%RH","v":67}]""";

        assertThat(Resolved.json(json, NOW).get(3))
                .isEqualTo(number(
                        "2001:db8::1/humidity",
                        "%RH",
                        true,
                        Instant.parse("2011-10-31T16:27:09Z").toEpochMilli(),
                        67));
    }

    @Test
    void resolve_settingAnActuator_firstRecordOnlyNamesTheBase() {
        String json = """
                [{"bn":"urn:dev:ow:10e2073a01080063:"},
                 {"n":"temp","u":"Cel","v":23.1},
                 {"n":"heat","u":"/","v":1},
                 {"n":"fan","u":"/","v":0}]""";

        assertThat(Resolved.json(json, NOW))
                .extracting(SenmlRecord::name)
                .containsExactly(DEVICE + ":temp", DEVICE + ":heat", DEVICE + ":fan");
    }

    @Test
    void resolve_lightsOff_partOfASecondIsKept() {
        String json = """
                [{"bt":1.320078429e+09,"bu":"/","n":"2001:db8::3","v":0.5},
                 {"n":"2001:db8::4","v":0.5},
                 {"n":"2001:db8::3","t":0.1,"v":0},
                 {"n":"2001:db8::4","t":0.1,"v":0}]""";

        assertThat(Resolved.json(json, NOW))
                .extracting(SenmlRecord::timeMillis)
                .containsExactly(1_320_078_429_000L, 1_320_078_429_000L, 1_320_078_429_100L, 1_320_078_429_100L);
    }

    @ParameterizedTest
    @CsvSource({
        // Section 4.5.3: below 2^28 = 268,435,456 s relative to now, from there on absolute; the sum decides.
        "'',                          2026-05-04T00:00:12.010Z, 0",
        "'\"t\":0,',                  2026-05-04T00:00:12.010Z, 0",
        "'\"t\":-60,',                2026-05-04T00:00:12.010Z, -60000",
        "'\"t\":1.5,',                2026-05-04T00:00:12.010Z, 1500",
        "'\"bt\":-10,\"t\":-0.25,',   2026-05-04T00:00:12.010Z, -10250",
        "'\"bt\":268435455,',         2026-05-04T00:00:12.010Z, 268435455000",
        "'\"bt\":268435456,',         1970-01-01T00:00:00Z,     268435456000",
        "'\"bt\":268435450,\"t\":6,', 1970-01-01T00:00:00Z,     268435456000",
        "'\"bt\":268435456,\"t\":-1,',2026-05-04T00:00:12.010Z, 268435455000",
        "'\"bt\":1777800000,\"t\":-12,',1970-01-01T00:00:00Z,   1777799988000",
    })
    void resolve_time_isRelativeBelowTwoToThe28(String fields, Instant from, long plus) {
        String json = "[{" + fields + "\"n\":\"a\",\"v\":1}]";

        assertThat(Resolved.json(json, NOW).get(0).timeMillis()).isEqualTo(from.toEpochMilli() + plus);
    }

    @Test
    void resolve_baseValue_isAddedToNumbersOnly() {
        String json =
                "[{\"bn\":\"a/\",\"bv\":20,\"n\":\"x\",\"v\":0.5},{\"n\":\"y\",\"vb\":true},{\"bv\":0,\"n\":\"z\",\"v\":1}]";

        assertThat(Resolved.json(json, NOW))
                .extracting(SenmlRecord::value)
                .containsExactly(new SenmlValue.Number(20.5), new SenmlValue.Flag(true), new SenmlValue.Number(1));
    }

    private static SenmlRecord number(String name, String unit, boolean own, long timeMillis, double value) {
        return at(10, name, unit, own, timeMillis, value);
    }

    private static SenmlRecord at(int version, String name, String unit, boolean own, long timeMillis, double value) {
        return new SenmlRecord("", name, unit, own, timeMillis, new SenmlValue.Number(value), version);
    }
}
