package dev.rimecast.telemetry.log;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class SiteLogCodecTest {
    private static final Instant AT = Instant.parse("2026-05-04T00:00:12.010Z");

    static List<SiteRecord> records() {
        List<Reading> readings = List.of(
                Reading.number("ice-0007", Channel.EVAPORATOR_TEMPERATURE, AT.toEpochMilli(), -6.4),
                Reading.phase("ice-0007", AT.toEpochMilli(), Phase.FREEZE),
                Reading.text("ice-0007", Channel.CONTROLLER_STATUS, AT.toEpochMilli() + 1, "Kälte läuft"),
                Reading.flag("ice-0008", Channel.BIN_FULL, AT.toEpochMilli() - 5_000, true));
        return List.of(
                new SiteRecord.Pack("gw-1", Optional.of(new PackNumber("b1", 42)), AT, readings, 2),
                new SiteRecord.Pack("gw-1", Optional.empty(), AT, List.of(), 0),
                new SiteRecord.Registered(AT, Machine.basic("ice-0007", "harbour", "gw-1")),
                new SiteRecord.Unregistered(AT, "ice-0007"),
                new SiteRecord.SiteChanged(AT, Site.basic("harbour")),
                new SiteRecord.PolicyActivated(AT, "v1", "a: 1\n"),
                new SiteRecord.Happened(AT, Optional.of("ice-0007"), EventKind.CLEANED, "", "Kim", "J-1"),
                new SiteRecord.Presence(AT, "gw-1", true),
                new SiteRecord.Tick(AT));
    }

    @ParameterizedTest
    @MethodSource("records")
    void decode_ofEncoded_isTheSame(SiteRecord written) {
        assertThat(SiteLogCodec.decode(SiteLogCodec.encode(written))).isEqualTo(written);
    }

    @ParameterizedTest
    @MethodSource("records")
    void decode_cutAnywhere_isMalformed(SiteRecord written) {
        byte[] bytes = SiteLogCodec.encode(written);
        for (int length = 0; length < bytes.length; length++) {
            byte[] cut = Arrays.copyOf(bytes, length);
            assertThatThrownBy(() -> SiteLogCodec.decode(cut)).isInstanceOf(MalformedRecordException.class);
        }
    }

    @Test
    void encode_tick_keepsTheBytesOfTheFormat() {
        // The format is a contract with every log that was ever written: version 1, kind 8, seconds, nanoseconds.
        // 1,777,852,860 s, doubled for the sign, as a varint, worked out apart from the code: f8 86 bf 9f 0d.
        byte[] bytes = SiteLogCodec.encode(new SiteRecord.Tick(Instant.parse("2026-05-04T00:01:00Z")));

        assertThat(HexFormat.of().formatHex(bytes)).isEqualTo("0108f886bf9f0d00");
    }

    @Test
    void decode_randomlySpoiled_isARecordOrMalformed() {
        long seed = 20260504;
        Random random = new Random(seed);
        List<byte[]> originals = records().stream().map(SiteLogCodec::encode).toList();
        int malformed = 0;
        for (int i = 0; i < 50_000; i++) {
            byte[] bytes = originals.get(random.nextInt(originals.size())).clone();
            bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(256);
            try {
                assertThat(SiteLogCodec.decode(bytes))
                        .as("seed %s, round %s", seed, i)
                        .isNotNull();
            } catch (MalformedRecordException e) {
                malformed++;
            }
        }
        assertThat(malformed).isPositive();
    }
}
