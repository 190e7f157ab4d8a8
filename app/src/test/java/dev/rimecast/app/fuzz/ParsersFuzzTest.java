package dev.rimecast.app.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import com.code_intelligence.jazzer.junit.FuzzTest;
import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.cases.CaseBook;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.WebhookUrl;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.visits.file.EngineersFile;
import dev.rimecast.alerts.visits.file.PartsFile;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.app.config.Config;
import dev.rimecast.history.backtest.MarksFile;
import dev.rimecast.ingest.SenmlDecoder;
import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.Message;
import dev.rimecast.ingest.intake.PayloadFormat;
import dev.rimecast.ingest.intake.Tally;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.ingest.kafka.RejectId;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.cycle.AcceptanceJson;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.WeatherFile;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.file.log.CaptureReader;
import dev.rimecast.telemetry.file.log.Captured;
import dev.rimecast.telemetry.file.log.LogRow;
import dev.rimecast.telemetry.file.log.TelemetryLogReader;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.gateway.GatewayKeysJson;
import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.proof.ProofJson;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import org.apache.hc.client5.http.classic.methods.HttpPost;
import org.apache.hc.core5.net.URIAuthority;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;

/**
 * Whatever comes in, only declared outcomes come out, and nothing goes uncounted. As a test it runs the inputs that are kept in the
 * resources; {@code bash .ci/fuzz} has Jazzer look for new ones.
 */
class ParsersFuzzTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:30Z");
    private static final Intake INTAKE = new Intake(new SenmlDecoder());
    private static final Register REGISTER =
            new Register(List.of(Machine.basic("ice-1", "harbour", "gw-1")), List.of());

    /** PostgreSQL's time ends in 294276. */
    private static final Instant TOO_LATE = Instant.parse("+10001-01-01T00:00:00Z");

    private static final Codes CODES = new Codes();

    private static Path directory = Path.of("");

    @BeforeAll
    static void makeDirectory() throws IOException {
        directory = Files.createTempDirectory("rimecast-fuzz");
    }

    @AfterAll
    static void removeDirectory() throws IOException {
        try (var files = Files.list(directory)) {
            for (Path file : files.toList()) {
                Files.delete(file);
            }
        }
        Files.delete(directory);
    }

    private interface Reading {
        void read() throws IOException;
    }

    private static void csv(Reading reading) throws IOException {
        try {
            reading.read();
        } catch (InputProblems told) {
            assertThat(told.getMessage()).isNotBlank();
        }
    }

    private static void yaml(Runnable reading) {
        try {
            reading.run();
        } catch (YamlProblems told) {
            assertThat(told.getMessage()).isNotBlank();
        }
    }

    private static Path file(String name, byte[] content) throws IOException {
        return Files.write(directory.resolve(name), content);
    }

    @FuzzTest
    void senmlJson(byte[] payload) {
        pack(PayloadFormat.JSON, payload);
    }

    @FuzzTest
    void senmlCbor(byte[] payload) {
        pack(PayloadFormat.CBOR, payload);
    }

    /** Every record is stored, unclaimed or rejected with its reason, in the tally and in what is written; which can be read. */
    private static void pack(PayloadFormat format, byte[] payload) {
        Decision decision = INTAKE.pack(
                new Message("fleet/gw-1/senml", "gw-1", format, payload, Optional.empty(), Optional.empty(), NOW),
                REGISTER);
        Tally tally = decision.tally();
        assertThat(tally.stored() + tally.unclaimed() + tally.rejectedRecords()).isEqualTo(tally.received());
        int stored = 0;
        int unclaimed = 0;
        int rejected = 0;
        for (Write write : decision.writes()) {
            if (write instanceof Write.ToSite toSite) {
                assertThat(SiteLogCodec.decode(SiteLogCodec.encode(toSite.entry())))
                        .isEqualTo(toSite.entry());
                stored += ((SiteRecord.Pack) toSite.entry()).readings().size();
            } else if (write instanceof Write.ToUnclaimed kept) {
                unclaimed += kept.pack().readings().size();
            } else if (write instanceof Write.ToRejects kept) {
                assertThat(kept.payload()).isEqualTo(payload);
                rejected += kept.rejects().size();
            }
        }
        assertThat(List.of(stored, unclaimed, rejected))
                .as("what is counted is written")
                .containsExactly(tally.stored(), tally.unclaimed(), tally.rejectedRecords());
        assertThat(decision.isPoison() && rejected == 0).isFalse();
    }

    @FuzzTest
    void siteLogRecord(byte[] bytes) {
        SiteRecord siteRecord;
        try {
            siteRecord = SiteLogCodec.decode(bytes);
        } catch (MalformedRecordException told) {
            return;
        }
        assertThat(SiteLogCodec.decode(SiteLogCodec.encode(siteRecord))).isEqualTo(siteRecord);
    }

    @FuzzTest
    void keysOfGateways(byte[] bytes) {
        try {
            assertThat(GatewayKeysJson.decode(bytes)).isNotNull();
        } catch (MalformedRecordException told) {
            assertThat(told.getMessage()).isNotBlank();
        }
    }

    @FuzzTest
    void machines(byte[] content) throws IOException {
        csv(() -> MachinesFile.read(file("machines.csv", content)));
    }

    @FuzzTest
    void sites(byte[] content) throws IOException {
        csv(() -> SitesFile.read(file("sites.csv", content)));
    }

    @FuzzTest
    void events(byte[] content) throws IOException {
        csv(() -> Lines.assertTold(content, EventsFile.readGoodRows("events.csv", new ByteArrayInputStream(content))));
    }

    @FuzzTest
    void weather(byte[] content) throws IOException {
        csv(() ->
                Lines.assertTold(content, WeatherFile.readGoodRows("weather.csv", new ByteArrayInputStream(content))));
    }

    @FuzzTest
    void telemetryLog(byte[] content) throws IOException {
        Lines lines = Lines.ofTable(content);
        csv(() -> {
            try (TelemetryLogReader in = TelemetryLogReader.open(file("log.csv", content), bad -> {
                if (bad.column().isEmpty()) {
                    lines.tell(bad.line());
                }
            })) {
                for (Optional<LogRow> row = in.next(); row.isPresent(); row = in.next()) {
                    lines.tell(row.get().line());
                }
            }
            lines.assertTableIsTold();
        });
    }

    @FuzzTest
    void capture(byte[] content) throws IOException {
        Lines lines = Lines.ofCapture(content);
        AtomicInteger records = new AtomicInteger();
        csv(() -> {
            try (CaptureReader in = CaptureReader.open(file("capture.jsonl", content), bad -> {
                if (bad.column().isEmpty()) {
                    lines.tell(bad.line());
                } else {
                    records.incrementAndGet();
                }
            })) {
                for (Optional<Captured> one = in.next(); one.isPresent(); one = in.next()) {
                    lines.tell(one.get().line());
                    if (one.get() instanceof Captured.Pack pack) {
                        records.addAndGet(-pack.rejected());
                    }
                }
            }
            lines.assertCaptureIsTold();
            assertThat(records.get())
                    .as("records that were rejected and not told")
                    .isZero();
        });
    }

    @FuzzTest
    void policy(byte[] content) {
        yaml(() -> Policy.parse(new String(content, StandardCharsets.UTF_8)));
    }

    @FuzzTest
    void configuration(byte[] content) throws IOException {
        Path file = file("rimecast.yaml", content);
        try {
            Config.load(file, Map.of());
        } catch (YamlProblems told) {
            assertThat(told.getMessage()).isNotBlank();
        }
    }

    /** With the addresses of webhooks and of people. */
    @FuzzTest
    void notices(byte[] content) {
        yaml(() -> NoticeBook.parse("notices.yaml", new String(content, StandardCharsets.UTF_8), directory));
    }

    /** What managers edit on the page Rules. */
    @FuzzTest
    void rules(byte[] content) {
        String text = new String(content, StandardCharsets.UTF_8);
        yaml(() -> PriorityBook.parse("priority.yaml", text));
        yaml(() -> CaseBook.parse("cases.yaml", text));
        yaml(() -> LifeBook.parse("life.yaml", text));
        yaml(() -> AdviceBook.parseOwn("advice.yaml", text));
    }

    @FuzzTest
    void engineers(byte[] content) throws IOException {
        csv(() -> EngineersFile.read(file("engineers.csv", content)));
    }

    @FuzzTest
    void parts(byte[] content) throws IOException {
        csv(() -> PartsFile.read(file("parts.csv", content)));
    }

    @FuzzTest
    void alerts(byte[] content) throws IOException {
        csv(() -> Lines.ofTable(content)
                .assertRows(AlertsFile.read(file("alerts.csv", content)).size()));
    }

    @FuzzTest
    void alertHistory(byte[] content) throws IOException {
        csv(() -> Lines.ofTable(content)
                .assertRows(AlertHistoryFile.read(file("alert_history.csv", content))
                        .size()));
    }

    @FuzzTest
    void cycles(byte[] content) throws IOException {
        csv(() -> Lines.ofTable(content)
                .assertRows(CyclesFile.read(file("cycles.csv", content)).size()));
    }

    @FuzzTest
    void marks(byte[] content) throws IOException {
        csv(() -> Lines.ofTable(content)
                .assertRows(MarksFile.read(file("marks.csv", content)).size()));
    }

    @FuzzTest
    void truth(byte[] content) throws IOException {
        csv(() -> Lines.ofTable(content)
                .assertRows(TruthFile.read(file("truth.csv", content)).size()));
    }

    /** A record of the topic findings, cycles, proofs or acks. What is read is written and read back the same. */
    @FuzzTest
    void decided(byte[] bytes) {
        same(bytes, FindingJson::decode, FindingJson::encode);
        same(bytes, CycleJson::decode, CycleJson::encode);
        same(bytes, ProofJson::decode, ProofJson::encode);
        same(bytes, AcceptanceJson::decode, AcceptanceJson::encode);
        same(bytes, GatewayAckJson::decode, GatewayAckJson::encode);
    }

    private static <T> void same(byte[] bytes, Function<byte[], T> decode, Function<T, byte[]> encode) {
        T read;
        try {
            read = decode.apply(bytes);
        } catch (MalformedRecordException told) {
            assertThat(told.getMessage()).isNotBlank();
            return;
        }
        assertThat(decode.apply(encode.apply(read))).isEqualTo(read);
    }

    /** Places in lists, identifiers and times, as they stand in addresses: what is read has room in a database. */
    @FuzzTest
    void addresses(byte[] bytes) {
        String text = new String(bytes, StandardCharsets.UTF_8);
        RejectId.parse(text)
                .ifPresent(id -> assertThat(RejectId.parse(id.toString())).contains(id));
        ListPlace.parse(text).ifPresent(place -> {
            assertThat(ListPlace.parse(place.text())).contains(place);
            assertThat(place.at()).isBefore(TOO_LATE);
        });
        IsoTime.parse(text).ifPresent(at -> {
            assertThat(at).isBefore(TOO_LATE);
            assertThat(Instant.ofEpochMilli(at.toEpochMilli())).isBeforeOrEqualTo(at);
        });
    }

    /** Of a second factor: nothing but its six digits is taken, whatever stands between them. */
    @FuzzTest
    void codes(byte[] bytes) {
        String text = new String(bytes, StandardCharsets.UTF_8);
        boolean taken = CODES.taken(text);
        assertThat(taken && text.replaceAll("\\s", "").length() != 6).as(text).isFalse();
    }

    /** What is taken for the address of a webhook can be called, and is called where it says. */
    @FuzzTest
    void webhookUrl(byte[] bytes) {
        String text = new String(bytes, StandardCharsets.UTF_8);
        assertThat(WebhookUrl.wrong(text, true).isPresent()
                        && WebhookUrl.wrong(text, false).isEmpty())
                .as("what is wrong on the firm's own network is wrong elsewhere, too")
                .isFalse();
        if (WebhookUrl.wrong(text, true).isEmpty()) {
            URI url = URI.create(text);
            URIAuthority called = new HttpPost(url).getAuthority();
            assertThat(called.getHostName()).isEqualToIgnoringCase(url.getHost());
            assertThat(called.getPort()).isEqualTo(url.getPort());
            assertThat(called.getUserInfo()).isNull();
        }
    }
}
