package dev.rimecast.telemetry.senml;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.reading.Reading;
import java.io.ByteArrayOutputStream;
import java.time.Instant;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Valid payloads, spoiled at random: whatever comes in, only declared outcomes come out. */
class SpoiledPayloadTest {
    private static final Instant NOW = Instant.parse("2026-05-04T00:00:12.010Z");
    /** A tenth of what is run before a release: {@code -Dspoil.rounds=200000}. */
    private static final int ROUNDS = Integer.getInteger("spoil.rounds", 20_000);

    /** Pieces that mean something to a parser, to be put in where bytes of chance would seldom come upon them. */
    private static final List<byte[]> PIECES = List.of(
            "1e999".getBytes(),
            "\"x_\":1,".getBytes(),
            "\"bver\":26,".getBytes(),
            "{\"bn\":\"a/\"},".getBytes(),
            "[[[[[[[[[[[[[[[[[[".getBytes(),
            "\\ud800".getBytes(),
            "null".getBytes(),
            "\"v\":1,".getBytes(),
            HexFormat.of().parseHex("9f"),
            HexFormat.of().parseHex("bf"),
            HexFormat.of().parseHex("ff"),
            HexFormat.of().parseHex("fb7ff8000000000000"),
            HexFormat.of().parseHex("7bffffffffffffffff"),
            HexFormat.of().parseHex("bb7fffffffffffffff"),
            HexFormat.of().parseHex("c4821a7fffffff01"),
            HexFormat.of().parseHex("818181818181818181818181818181818181"),
            HexFormat.of().parseHex("0000feff"));

    @Test
    void decode_spoiledJson_hasADeclaredOutcome() {
        spoil(8428, SenmlJsonEncoder::encode, SenmlJsonDecoder::decode);
    }

    @Test
    void decode_spoiledCbor_hasADeclaredOutcome() {
        spoil(8949, SenmlCborEncoder::encode, SenmlCborDecoder::decode);
    }

    private interface Encoder {
        byte[] encode(List<Reading> readings);
    }

    private interface Decoder {
        SenmlPack decode(byte[] payload, Instant now);
    }

    private static void spoil(long seed, Encoder encoder, Decoder decoder) {
        Random random = new Random(seed);
        int refused = 0;
        int rejected = 0;
        int whole = 0;
        byte[] original = {};
        for (int round = 0; round < ROUNDS; round++) {
            if (round % 50 == 0) {
                original = encoder.encode(Packs.random(random));
            }
            byte[] payload = spoiled(original, random);
            try {
                SenmlPack pack = decoder.decode(payload, NOW);
                if (pack instanceof SenmlPack.Decoded decoded) {
                    requireLegal(decoded);
                    rejected += decoded.rejected().isEmpty() ? 0 : 1;
                    whole += decoded.rejected().isEmpty() ? 1 : 0;
                } else {
                    refused++;
                }
            } catch (RuntimeException | Error e) {
                throw new AssertionError(
                        "seed " + seed + " round " + round + ": "
                                + HexFormat.of().formatHex(payload),
                        e);
            }
        }
        assertThat(List.of(refused, rejected, whole))
                .as("seed %d: refused, with rejected records, whole", seed)
                .allMatch(count -> count > ROUNDS / 100);
    }

    private static void requireLegal(SenmlPack.Decoded decoded) {
        if (decoded.readings().size() + decoded.rejected().size() > SenmlPack.MAX_RECORDS) {
            throw new AssertionError("more than " + SenmlPack.MAX_RECORDS + " records");
        }
        for (Reading reading : decoded.readings()) {
            if (!Ids.isLegal(reading.machine()) || reading.timeMillis() < 0) {
                throw new AssertionError("illegal reading " + reading);
            }
        }
        for (SenmlPack.Rejected one : decoded.rejected()) {
            if (one.detail().length() > 300 || one.detail().chars().anyMatch(Character::isISOControl)) {
                throw new AssertionError("detail not fit for a log: " + one.detail());
            }
        }
    }

    private static byte[] spoiled(byte[] original, Random random) {
        byte[] payload = original.clone();
        for (int i = random.nextInt(3); i >= 0; i--) {
            int at = random.nextInt(payload.length);
            switch (random.nextInt(6)) {
                case 0 -> payload[at] = (byte) random.nextInt();
                case 1 -> payload[at] ^= (byte) (1 << random.nextInt(8));
                case 2 -> payload = Arrays.copyOf(payload, Math.max(1, at));
                case 3 -> payload = joined(payload, at, PIECES.get(random.nextInt(PIECES.size())), at);
                case 4 -> payload = joined(payload, at, new byte[0], Math.min(payload.length, at + random.nextInt(9)));
                default -> {
                    int from = random.nextInt(payload.length);
                    int to = Math.min(payload.length, from + random.nextInt(60));
                    payload = joined(payload, at, Arrays.copyOfRange(payload, from, to), at);
                }
            }
            if (payload.length == 0) {
                return payload;
            }
        }
        return payload;
    }

    /** The bytes up to {@code end}, then {@code middle}, then those from {@code resume} on. */
    private static byte[] joined(byte[] payload, int end, byte[] middle, int resume) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(payload.length + middle.length);
        bytes.write(payload, 0, end);
        bytes.writeBytes(middle);
        bytes.write(payload, resume, payload.length - resume);
        return bytes.toByteArray();
    }
}
