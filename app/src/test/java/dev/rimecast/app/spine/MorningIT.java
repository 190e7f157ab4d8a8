package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import dev.rimecast.alerts.AlertsSettings;
import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.alerts.visits.VisitMeans;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.Topics;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * A service manager's morning on the real server with a real mail server: three findings of the night, one mail that wakes
 * nobody, the case, the advice, the next question, and two decisions. Findings are given; that detection makes them is
 * tested where it is. The night is a Tuesday's in winter, when London's clock is UTC.
 */
class MorningIT {
    private static final Instant NIGHT = Instant.parse("2026-11-24T23:50:00Z");
    private static final Instant MORNING = Instant.parse("2026-11-25T06:31:00Z");
    private static final Duration LIMIT = Duration.ofSeconds(60);
    /** Of the notices, which look twice a second: that nothing comes can only be waited for. */
    private static final Duration SEVERAL_ROUNDS = Duration.ofSeconds(3);

    private static final JsonMapper JSON = JsonMapper.builder().build();

    @TempDir
    Path directory;

    private final GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    private volatile Instant now = NIGHT;
    private Server server;
    private Http manager;

    @BeforeEach
    void start() throws Exception {
        mail.start();
        Path register = directory.resolve("machines.csv");
        Files.writeString(register, """
                machine,site,gateway
                bar-1,harbour,gw-harbour
                bar-2,harbour,gw-harbour
                ward-1,hillside,gw-hillside
                """);
        server = Server.start(
                new ServerSettings(
                        directory.resolve("data"),
                        Set.of(Role.ALERTS, Role.DASHBOARD),
                        Optional.empty(),
                        new ServerSettings.Address("127.0.0.1", 0),
                        Optional.empty(),
                        new ServerSettings.Mqtt(new ServerSettings.Address("127.0.0.1", 0), 0),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        Optional.empty(),
                        new ServerSettings.Files(Optional.of(register), Optional.empty(), Optional.empty()),
                        NoticeBook.parse("notices.yaml", notices(), directory),
                        FactorRule.OPTIONAL,
                        AlertsSettings.SITE_LINK_LASTS,
                        Retention.STANDARD,
                        VisitMeans.STANDARD,
                        ServerSettings.KEEP_FREE_BYTES,
                        ServerSettings.Past.STANDARD,
                        false),
                () -> now,
                Optional::empty,
                failure -> {});
        manager = Http.of(server, "Maya", dev.rimecast.alerts.people.Role.MANAGER);
        // The digest of the day on which it begins, about nothing.
        await().atMost(LIMIT).until(() -> mail.getReceivedMessages().length == 1);
        mail.purgeEmailFromAllMailboxes();
    }

    @AfterEach
    void stop() {
        if (server != null) {
            server.close();
        }
        mail.stop();
    }

    /** At night only what is urgent goes to whoever is on call; the manager reads one mail at half past six. */
    private String notices() {
        return """
                link: https://rimecast.example
                mail: {host: 127.0.0.1, port: %d, security: none, from: rimecast@firm.example}
                receivers:
                  on-call: {mail: on-call@firm.example}
                  service-manager: {mail: manager@firm.example}
                routes:
                  - {name: night, priorities: [urgent], steps: [{to: [on-call]}]}
                digests:
                  - {name: morning, to: [service-manager], at: "06:30", zone: Europe/London}
                """.formatted(mail.getSmtp().getPort());
    }

    private static Finding found(
            String site, String machine, Condition condition, Stage stage, Priority priority, Inquiry inquiry) {
        return new Finding(
                Finding.idOf(machine, condition, NIGHT),
                1,
                Finding.Step.RAISED,
                site,
                Optional.of(machine),
                Optional.empty(),
                condition,
                stage,
                priority,
                NIGHT,
                NIGHT,
                List.of(
                        new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.6, List.of("Split is 8 K higher."), List.of()),
                        new ProbableCause(Cause.FAN_WEAK, 0.3, List.of(), List.of())),
                Optional.empty(),
                Optional.empty(),
                "Something was seen at " + machine + '.',
                "detector-1",
                "policy-1",
                inquiry);
    }

    private static Inquiry asksForTheFilter() {
        return new Inquiry(
                List.of(),
                Optional.of(new Inquiry.Next(
                        "air-filter",
                        0.5,
                        List.of(
                                new Inquiry.Outcome("was-full", 0.5, Cause.AIRFLOW_RESTRICTED, 0.9),
                                new Inquiry.Outcome("clean", 0.3, Cause.FAN_WEAK, 0.6)))),
                List.of("air-filter"));
    }

    private void comeIn(Finding... findings) throws Exception {
        Map<String, Object> config = new HashMap<>(server.kafka());
        try (KafkaProducer<byte[], byte[]> producer =
                new KafkaProducer<>(config, new ByteArraySerializer(), new ByteArraySerializer())) {
            for (Finding finding : findings) {
                producer.send(new ProducerRecord<>(
                                Topics.FINDINGS,
                                finding.site().getBytes(StandardCharsets.UTF_8),
                                FindingJson.encode(finding)))
                        .get();
            }
        }
        await().atMost(LIMIT).until(() -> alerts().size() == findings.length);
    }

    private JsonNode get(String path) {
        return JSON.readTree(manager.get(path));
    }

    private JsonNode alerts() {
        return get("/api/v1/alerts");
    }

    private JsonNode alertOf(String machine) {
        return get("/api/v1/alerts/"
                + alerts().valueStream()
                        .filter(alert -> alert.path("machine").asString().equals(machine))
                        .findFirst()
                        .orElseThrow()
                        .path("id")
                        .asString());
    }

    private JsonNode act(JsonNode alert, String what, String members) {
        String id = alert.path("alert").path("id").asString();
        long version = alert.path("alert").path("version").asLong();
        return JSON.readTree(
                manager.post("/api/v1/alerts/" + id + '/' + what, "{\"version\":" + version + ',' + members + '}'));
    }

    @Test
    void morning_oneMail_theCase_theAdvice_theQuestion_andTwoDecisions() throws Exception {
        comeIn(
                found(
                        "harbour",
                        "bar-1",
                        Condition.RISING_CONDENSING_TEMPERATURE,
                        Stage.EARLY,
                        Priority.HIGH,
                        asksForTheFilter()),
                found("harbour", "bar-2", Condition.DRAIN_PUMP_OVERRUN, Stage.EARLY, Priority.LOW, Inquiry.NONE),
                found("hillside", "ward-1", Condition.LONG_FREEZE, Stage.EARLY, Priority.MEDIUM, Inquiry.NONE));
        now = MORNING;
        await().atMost(LIMIT).until(() -> mail.getReceivedMessages().length > 0);

        theMailNamesWhatCameIn();
        JsonNode first = theCaseIsOpened();
        theQuestionIsAnswered(first);
        twoDecisions();
        nothingElseCame();
    }

    private void theMailNamesWhatCameIn() throws Exception {
        MimeMessage digest = mail.getReceivedMessages()[0];
        assertThat(digest.getAllRecipients()).extracting(Object::toString).containsExactly("manager@firm.example");
        String text = String.valueOf(
                ((MimeMultipart) digest.getContent()).getBodyPart(0).getContent());
        assertThat(text).contains("bar-1", "bar-2", "ward-1");
        assertThat(text.indexOf("bar-1")).as("the most urgent first").isLessThan(text.indexOf("bar-2"));
    }

    /** By the list of cases, as the page does; advice has what the site can do, what an engineer does, and cautions. */
    private JsonNode theCaseIsOpened() {
        JsonNode cases = get("/api/v1/cases");
        assertThat(cases).hasSize(3);
        JsonNode ofBar = cases.valueStream()
                .filter(each -> each.path("subject").asString().equals("bar-1"))
                .findFirst()
                .orElseThrow();
        JsonNode opened = get("/api/v1/cases/" + ofBar.path("id").asString());
        assertThat(opened.path("alerts")).hasSize(1);
        JsonNode alert =
                get("/api/v1/alerts/" + opened.path("alerts").path(0).path("id").asString());
        JsonNode advice = alert.path("advice");
        assertThat(advice.path("siteChecks")).isNotEmpty();
        assertThat(advice.path("engineerChecks")).isNotEmpty();
        assertThat(advice.path("parts")).isNotEmpty();
        assertThat(advice.path("cautions")).isNotEmpty();
        assertThat(alert.path("diagnosis").path(0).path("cause").asString()).isEqualTo("airflow-restricted");
        return alert;
    }

    private void theQuestionIsAnswered(JsonNode alert) {
        JsonNode question = alert.path("question");
        assertThat(question.path("question").asString()).isEqualTo("air-filter");
        assertThat(question.path("answers")
                        .valueStream()
                        .map(answer -> answer.path("answer").asString()))
                .contains("was-full", "clean", "cannot-tell");
        manager.post(
                "/api/v1/alerts/" + alert.path("alert").path("id").asString() + "/answers",
                "{\"question\":\"air-filter\",\"answer\":\"clean\"}");

        assertThat(get("/api/v1/machines/bar-1/events")
                        .path("events")
                        .valueStream()
                        .map(event -> event.path("detail").asString()))
                .contains("air-filter:clean");
        assertThat(lines(alertOf("bar-1"))).anySatisfy(line -> assertThat(line).startsWith("Maya"));
    }

    private static List<String> lines(JsonNode alert) {
        List<String> lines = new ArrayList<>();
        alert.path("history")
                .forEach(line -> lines.add(line.path("who").asString() + ' '
                        + line.path("what").asString() + ": " + line.path("why").asString()));
        return lines;
    }

    private void twoDecisions() {
        Instant until = MORNING.plus(Duration.ofDays(1));
        JsonNode paused =
                act(alertOf("bar-2"), "shelve", "\"reason\":\"The bar is closed today.\",\"until\":\"" + until + '"');
        JsonNode seen = act(alertOf("ward-1"), "acknowledge", "\"note\":\"Goes with the visit on Friday.\"");

        assertThat(paused.path("alert").path("state").asString()).isEqualTo("shelved");
        assertThat(lines(paused)).last().asString().contains("Maya", "The bar is closed today.");
        assertThat(seen.path("alert").path("state").asString()).isEqualTo("acknowledged");
        assertThat(seen.path("acknowledgedBy").asString()).isEqualTo("Maya");
        assertThat(alertOf("bar-1").path("alert").path("state").asString()).isEqualTo("unacknowledged");
    }

    /** Hours later, with everything looked at again, there is still the one mail; the log of notices says the same. */
    private void nothingElseCame() {
        now = MORNING.plus(Duration.ofHours(6));
        await().during(SEVERAL_ROUNDS).atMost(LIMIT).until(() -> mail.getReceivedMessages().length == 1);
        assertThat(get("/api/v1/notices")
                        .valueStream()
                        .map(notice -> notice.path("kind").asString()
                                + ' '
                                + notice.path("receiver").asString()
                                + ' '
                                + notice.path("state").asString()))
                .filteredOn(line -> !line.endsWith(" cancelled"))
                .containsExactly("digest service-manager sent", "digest service-manager sent");
    }
}
