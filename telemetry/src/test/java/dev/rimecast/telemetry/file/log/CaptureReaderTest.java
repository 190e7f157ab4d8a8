package dev.rimecast.telemetry.file.log;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CaptureReaderTest {
    @TempDir
    Path directory;

    private final List<RejectedLine> rejects = new ArrayList<>();

    private List<Captured> read(String text) throws IOException {
        Path file = Files.writeString(directory.resolve("capture.jsonl"), text);
        List<Captured> messages = new ArrayList<>();
        try (CaptureReader reader = CaptureReader.open(file, rejects::add)) {
            for (Optional<Captured> next = reader.next(); next.isPresent(); next = reader.next()) {
                messages.add(next.get());
            }
        }
        return messages;
    }

    private List<String> reasons() {
        return rejects.stream()
                .map(reject -> reject.line() + " " + reject.column() + ": " + reject.reason())
                .toList();
    }

    @Test
    void next_linesOfACommonSubscriber_giveTheirMessages() throws IOException {
        // Written by mosquitto_sub 2.0.11 with -F %j, as it stands.
        List<Captured> messages = read("""
                {"tst":"2026-11-25T01:06:28.744711Z+0000","topic":"fleet/gw-1/senml","qos":0,"retain":0,"payloadlen":35,\
                "payload":"[{\\"n\\":\\"ice-1/phase\\",\\"vs\\":\\"freeze\\"}]"}
                {"tst":"2026-11-25T01:06:28.752693Z+0000","topic":"fleet/gw-1/presence","qos":0,"retain":0,\
                "payloadlen":6,"payload":"online"}
                """);

        Instant first = Instant.parse("2026-11-25T01:06:28.744711Z");
        assertThat(messages)
                .containsExactly(
                        new Captured.Pack(
                                1,
                                "gw-1",
                                first,
                                List.of(Reading.phase("ice-1", first.toEpochMilli(), Phase.FREEZE)),
                                0),
                        new Captured.Presence(2, "gw-1", Instant.parse("2026-11-25T01:06:28.752693Z"), true));
        assertThat(rejects).isEmpty();
    }

    @Test
    void next_localTimeWithOffset_isTurnedIntoUtc() throws IOException {
        List<Captured> messages = read("""
                {"tst":"2026-11-25T03:06:28.000000Z+0200","topic":"fleet/g/presence","payload":"offline"}
                {"tst":"2026-11-25T03:06:28+02:00","topic":"fleet/g/presence","payload":"offline"}
                """);

        Instant at = Instant.parse("2026-11-25T01:06:28Z");
        assertThat(messages)
                .containsExactly(new Captured.Presence(1, "g", at, false), new Captured.Presence(2, "g", at, false));
    }

    @Test
    void next_badRecord_isRejectedAndTheGoodOnesGoOn() throws IOException {
        List<Captured> messages = read("""
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/senml",\
                "payload":"[{\\"bn\\":\\"ice-1/\\",\\"n\\":\\"depth\\",\\"v\\":1},{\\"n\\":\\"supply_current\\",\\"v\\":2}]"}
                """);

        assertThat(messages).singleElement().isInstanceOfSatisfying(Captured.Pack.class, pack -> {
            assertThat(pack.readings()).extracting(Reading::channel).containsExactly(Channel.SUPPLY_CURRENT);
            assertThat(pack.rejected()).isEqualTo(1);
        });
        assertThat(reasons()).singleElement().asString().startsWith("1 record 0: unknown-channel: ");
    }

    @Test
    void next_linesThatAreNotUnderstood_areRejectedOneByOneAndTheRestGoesOn() throws IOException {
        String ack = "{\"tst\":\"2026-11-25T01:06:28Z\",\"topic\":\"fleet/g/ack\",\"payload\":\"{}\"}";

        List<Captured> messages = read("""
                {"tst":
                []

                {"topic":"fleet/g/senml","payload":"[]"}
                {"tst":"noon","topic":"fleet/g/senml","payload":"[]"}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/senml","payload":[]}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/senml","payload":"[]","payloadlen":3}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/G/senml","payload":"[]"}
                {"tst":"2026-11-25T01:06:28Z","topic":"house/lamp","payload":"on"}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/senml-cbor","payload":"x"}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/senml","payload":"{}"}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/presence","payload":"away"}
                {"tst":"2026-11-25T01:06:28Z","topic":"fleet/g/presence","payload":"online"}
                """ + ack + "\n");

        assertThat(messages).extracting(Captured::line).containsExactly(13L);
        List<String> reasons = reasons();
        assertThat(reasons.get(0)).startsWith("1 : is not a JSON object: ");
        assertThat(reasons.subList(1, 9))
                .containsExactly(
                        "2 : is not a JSON object",
                        "4 : tst is missing",
                        "5 : tst must be ISO 8601 with offset, found 'noon'",
                        "6 : payload must be a string",
                        "7 : payloadlen is 3, but the payload has 2 bytes: it was cut, or is not text",
                        "8 : bad-topic: 'fleet/G/senml' is not one of the contract's",
                        "9 : bad-topic: 'house/lamp' is not one of the contract's",
                        "10 : not-senml: a capture holds text, and CBOR is not: send it as senml");
        assertThat(reasons.get(9)).startsWith("11 : not-senml: ");
        assertThat(reasons.get(10)).isEqualTo("12 : presence must be online or offline");
        assertThat(reasons).hasSize(11);
    }

    @Test
    void next_endlessLine_isRejectedWithoutBeingKept() throws IOException {
        List<Captured> messages = read("x".repeat(3_000_000)
                + "\n{\"tst\":\"2026-11-25T01:06:28Z\",\"topic\":\"fleet/g/presence\",\"payload\":\"online\"}\n");

        assertThat(messages).extracting(Captured::line).containsExactly(2L);
        assertThat(reasons()).singleElement().asString().startsWith("1 : too-large: longer than ");
    }
}
