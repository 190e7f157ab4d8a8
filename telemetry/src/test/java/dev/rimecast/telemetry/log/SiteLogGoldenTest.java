package dev.rimecast.telemetry.log;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The bytes are a contract: logs of every earlier version must stay readable, so these lines only ever grow. */
class SiteLogGoldenTest {
    private static final List<String> VERSION_1 = List.of(
            // pack
            "01010467772d3101026231ac029886bf9f0d80ade2040202086963652d30303037086963652d303030380700"
                    + "0280c899d2bd677f000900520020003fd555555555555500290004017cf403fa010139c313020135d00f0545"
                    + "3420c3bc",
            // registered, every column
            "01029886bf9f0d80ade204086963652d3030303707686172626f75720467772d31010663656c6c6172010763"
                    + "7562652d36300105534e2031320102404e400000000000403800000000000001045232393001000103010201"
                    + "01404f00000000000001408c200000000000014018000000000000013ff800000000000001e0034020000000"
                    + "00000040430000000000004010000000000000403e00000000000001e802013c01da0501a006018eb50201e8"
                    + "ba02019cc602",
            // registered, required columns only
            "01029886bf9f0d80ade204086963652d3030303807686172626f75720467772d310000000000404900000000"
                    + "0000403400000000000000000000000000000000d80440240000000000004044000000000000401400000000"
                    + "0000404180000000000000000000000000",
            // unregistered
            "01039886bf9f0d80ade204086963652d30303037",
            // site, every column
            "01049886bf9f0d80ade20407686172626f757214436166c3a92061742074686520686172626f75720d457572"
                    + "6f70652f4c6973626f6e0180e0e7f6ace3070180c0d984e6e91241011362617240686172626f75722e657861"
                    + "6d706c6501027074014055400000000000014038000000000000",
            // site, required column only
            "01049886bf9f0d80ade20407686172626f757207686172626f75720355544300000000000000",
            // policy
            "01059886bf9f0d80ade20409323032362d30352d612364656661756c74733a0a202070756c6c5f646f776e5f"
                    + "6c696d69745f733a203930300a",
            // event on a machine
            "01069886bf9f0d80ade20401086963652d3030303701057363616c65056a2e646f650434373131",
            // event on the site
            "01069886bf9f0d80ade204000d000000",
            // presence
            "01079886bf9f0d80ade2040467772d3101",
            // tick: version 1, kind 8, 1,777,852,860 s doubled for the sign as a varint (worked out apart from the
            // code)
            "0108f886bf9f0d00",
            // weather: two days; days since 1970 (20,635 and 20,636, doubled for the sign) worked out apart from the
            // code
            "01099886bf9f0d80ade20402b6c2024041400000000000b8c202c00a000000000000");

    @Test
    void encode_recordOfEachKind_givesTheAgreedBytes() {
        assertThat(SiteRecords.all().map(SiteLogCodec::encode).map(HexFormat.of()::formatHex))
                .containsExactlyElementsOf(VERSION_1);
    }

    @Test
    void decode_agreedBytes_givesTheRecords() {
        assertThat(VERSION_1.stream().map(HexFormat.of()::parseHex).map(SiteLogCodec::decode))
                .containsExactlyElementsOf(SiteRecords.all().toList());
    }

    @Test
    void choices_ofTheFormat_keepTheirOrder() {
        assertThat(names(Machine.Kind.values())).isEqualTo("BATCH CONTINUOUS");
        assertThat(names(Machine.Cooling.values())).isEqualTo("AIR WATER REMOTE");
        assertThat(names(Machine.EndsBy.values())).isEqualTo("TEMPERATURE TIME LEVEL THICKNESS");
        assertThat(names(Machine.ProbeAt.values())).isEqualTo("PLATE OUTLET");
        assertThat(names(Machine.DrainKind.values())).isEqualTo("GRAVITY PUMP");
        assertThat(names(Phase.values())).isEqualTo("WAIT FILL FREEZE HARVEST IDLE CLEAN STOPPED REDUCED OFF");
        assertThat(names(EventKind.values()))
                .startsWith("CALL VISIT CLEANED AIR_FILTER_WASHED WATER_FILTER_CHANGED LAMP_CHANGED PART_REPLACED"
                        + " SENSOR_REPLACED CONTROLLER_REPLACED MOVED EXCHANGED CLOSED_FROM CLOSED_TO SITE_ANSWER");
        assertThat(names(Channel.values()))
                .startsWith("EVAPORATOR_TEMPERATURE CONDENSER_TEMPERATURE AMBIENT_TEMPERATURE WATER_TEMPERATURE"
                        + " SUPPLY_CURRENT PHASE CONTROLLER_STATUS BIN_FULL DRAIN_LEVEL FREEZE_TIME HARVEST_TIME"
                        + " PULL_DOWN_TIME FILL_TIME DRAIN_LEVEL_TIME DRAIN_RUN_TIME WATER_VOLUME ICE_MASS");
    }

    private static String names(Enum<?>[] values) {
        return String.join(" ", Arrays.stream(values).map(Enum::name).toList());
    }
}
