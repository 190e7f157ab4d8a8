package dev.rimecast.telemetry.log;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
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
import org.junit.jupiter.params.provider.ValueSource;

class SiteLogCodecTest {

    @ParameterizedTest
    @MethodSource("dev.rimecast.telemetry.log.SiteRecords#all")
    void decode_encodedRecord_givesTheRecord(SiteRecord original) {
        assertThat(SiteLogCodec.decode(SiteLogCodec.encode(original))).isEqualTo(original);
    }

    @ParameterizedTest
    @MethodSource("dev.rimecast.telemetry.log.SiteRecords#all")
    void decode_cutOffAnywhere_isMalformed(SiteRecord original) {
        byte[] whole = SiteLogCodec.encode(original);
        for (int length = 0; length < whole.length; length++) {
            byte[] part = Arrays.copyOf(whole, length);
            assertThatThrownBy(() -> SiteLogCodec.decode(part))
                    .as("first %d of %d bytes", length, whole.length)
                    .isInstanceOf(MalformedRecordException.class);
        }
    }

    @ParameterizedTest
    @MethodSource("dev.rimecast.telemetry.log.SiteRecords#all")
    void decode_bytesChangedAtRandom_isARecordOrMalformed(SiteRecord original) {
        byte[] whole = SiteLogCodec.encode(original);
        long seed = 20260504;
        Random random = new Random(seed);
        int refused = 0;
        for (int round = 0; round < 4_000; round++) {
            byte[] changed = whole.clone();
            for (int i = random.nextInt(4); i >= 0; i--) {
                changed[random.nextInt(changed.length)] = (byte) random.nextInt();
            }
            try {
                SiteLogCodec.decode(changed);
            } catch (MalformedRecordException e) {
                refused++;
            } catch (RuntimeException e) {
                throw new AssertionError("seed " + seed + " round " + round + ": " + hex(changed), e);
            }
        }
        assertThat(refused).isPositive();
    }

    /** Added at the end of the row: rows without it have the bytes that they always had. */
    @Test
    void row_withItsBuild_isReadBackAndOneWithoutHasTheOldBytes() {
        Machine plain = SiteRecords.WHOLE_ROW;
        Machine built = plain.withBuild(new Machine.Build(
                Optional.of(Machine.SprayUnit.JETS), Optional.empty(), Optional.of(Machine.Cooling.REMOTE)));
        byte[] old = SiteLogCodec.encode(new SiteRecord.Registered(SiteRecords.AT, plain));
        byte[] whole = SiteLogCodec.encode(new SiteRecord.Registered(SiteRecords.AT, built));

        assertThat(SiteLogCodec.decode(whole)).isEqualTo(new SiteRecord.Registered(SiteRecords.AT, built));
        assertThat(SiteLogCodec.decode(old)).isEqualTo(new SiteRecord.Registered(SiteRecords.AT, plain));
        assertThat(Arrays.copyOf(whole, old.length)).isEqualTo(old);
    }

    @Test
    void decode_byteAfterTheRecord_isMalformed() {
        byte[] whole = SiteLogCodec.encode(SiteRecords.PACK);

        assertThatThrownBy(() -> SiteLogCodec.decode(Arrays.copyOf(whole, whole.length + 1)))
                .isInstanceOf(MalformedRecordException.class)
                .hasMessage("1 bytes after the record at byte " + whole.length);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "0208", // version 2
                "0109", // kind 9
                "0103000080", // a length that doesn't end
                "01030000ffffffffffffffffff01", // a length of 2^64 - 1
                "01030000ffffffff07", // a length of 2^31 - 1
                "010300000202ff", // text cut short
                "01030000" + "02" + "c328", // not UTF-8
                "010101670000000000ffffffff07", // 2^31 - 1 machines
                "01010167000000000000ffffffff07", // 2^31 - 1 readings
                "0108ffffffffffffffffff0100", // a second that no calendar has
            })
    void decode_brokenBytes_isMalformed(String hex) {
        assertThatThrownBy(() -> SiteLogCodec.decode(HexFormat.of().parseHex(hex)))
                .isInstanceOf(MalformedRecordException.class)
                .hasMessageContaining(" at byte ");
    }

    @Test
    void decode_rowThatARegisterRefuses_isMalformed() {
        byte[] row = SiteLogCodec.encode(
                new SiteRecord.Registered(Instant.EPOCH, Machine.basic("ice-0007", "harbour", "gw-1")));
        row[5] = 'I'; // Ice-0007

        assertThatThrownBy(() -> SiteLogCodec.decode(row))
                .isInstanceOf(MalformedRecordException.class)
                .hasMessageContaining("machine 'Ice-0007' is not an identifier");
    }

    @ParameterizedTest
    @ValueSource(
            doubles = {
                0.0,
                -0.0,
                1,
                -1,
                0.1,
                -6.4,
                41.83,
                0.001,
                1.0 / 3,
                1e12,
                -1e15,
                9007199254740993.0,
                Double.MIN_VALUE,
                Double.MAX_VALUE,
                -Double.MAX_VALUE
            })
    void decode_value_hasTheSameBits(double value) {
        SiteRecord.Pack pack = packOf(
                Reading.number("ice-0007", Channel.SUPPLY_CURRENT, Long.MIN_VALUE, value), reading(Long.MAX_VALUE));

        SiteRecord.Pack back = (SiteRecord.Pack) SiteLogCodec.decode(SiteLogCodec.encode(pack));

        assertThat(Double.doubleToRawLongBits(back.readings().get(0).value()))
                .isEqualTo(Double.doubleToRawLongBits(value));
        assertThat(back.readings()).extracting(Reading::timeMillis).containsExactly(Long.MIN_VALUE, Long.MAX_VALUE);
    }

    @Test
    void decode_randomPacks_givesThePacks() {
        long seed = 7;
        Random random = new Random(seed);
        for (int round = 0; round < 2_000; round++) {
            Reading[] readings = new Reading[random.nextInt(20)];
            for (int i = 0; i < readings.length; i++) {
                Channel channel = Channel.ofOrdinal(random.nextInt(Channel.count()));
                double value = random.nextBoolean() ? random.nextInt(100_000) / 100.0 - 500 : random.nextGaussian();
                String text = random.nextInt(5) == 0 ? "words " + i : "";
                readings[i] = new Reading("m" + random.nextInt(300), channel, random.nextLong(), value, text);
            }
            SiteRecord.Pack pack = packOf(readings);
            assertThat(SiteLogCodec.decode(SiteLogCodec.encode(pack)))
                    .as("seed %d round %d", seed, round)
                    .isEqualTo(pack);
        }
    }

    private static SiteRecord.Pack packOf(Reading... readings) {
        return new SiteRecord.Pack("gw-1", Optional.empty(), SiteRecords.AT, List.of(readings), 0);
    }

    private static Reading reading(long timeMillis) {
        return Reading.number("ice-0007", Channel.SUPPLY_CURRENT, timeMillis, 1);
    }

    private static String hex(byte[] bytes) {
        return HexFormat.of().formatHex(bytes);
    }
}
