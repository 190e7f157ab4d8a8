package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.Topics;
import io.cloudevents.CloudEvent;
import io.cloudevents.core.provider.EventFormatProvider;
import io.cloudevents.jackson.JsonFormat;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.StreamSupport;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** An alert's life as others hear of it, over real Kafka. */
class AlertTopicIT extends StageBench {
    private static final Person ADA = new Person("ada");
    private static final JsonMapper JSON = JsonMapper.builder().build();

    @BeforeAll
    void start() {
        know(register("ice-1", "ice-2"));
    }

    private static Finding finding(String machine, int revision, Step step, Stage to, Priority priority, Cause cause) {
        Finding plain = Findings.finding(machine, Condition.LONG_FREEZE, NOON, revision, step, to, priority);
        return new Finding(
                plain.id(),
                revision,
                step,
                plain.site(),
                plain.machine(),
                Optional.empty(),
                plain.condition(),
                to,
                priority,
                NOON.plusSeconds(revision),
                NOON,
                List.of(new ProbableCause(cause, 0.7, List.of(), List.of())),
                Optional.empty(),
                Optional.empty(),
                "The freeze takes long.",
                "1",
                "standard-1");
    }

    private AlertView takenIn(Finding finding) throws Exception {
        engines.send(finding);
        engines.flush();
        await().until(() -> stage.views()
                .alert(finding.id())
                .filter(view -> view.finding().revision() == finding.revision())
                .isPresent());
        return stage.views().alert(finding.id()).orElseThrow();
    }

    private void act(UUID alert, Action action) {
        long version = stage.views().alert(alert).orElseThrow().version();
        assertThat(stage.actions().act(alert, version, ADA, action)).isInstanceOf(Outcome.Done.class);
    }

    private List<ConsumerRecord<byte[], byte[]>> of(String machine) {
        return engines.records(Topics.ALERTS).stream()
                .filter(each -> new String(each.key(), StandardCharsets.UTF_8).equals(machine))
                .toList();
    }

    private static List<String> types(List<ConsumerRecord<byte[], byte[]>> records) {
        return records.stream()
                .map(each -> JSON.readTree(each.value()).path("type").stringValue())
                .map(type -> type.replaceAll("dev\\.rimecast\\.alert\\.|\\.v1", ""))
                .toList();
    }

    @Test
    void life_ofAnAlert_isHeardInOrderOnceEach() throws Exception {
        Finding raised = finding("ice-1", 1, Step.RAISED, Stage.EARLY, Priority.MEDIUM, Cause.SCALE);
        takenIn(raised);
        act(raised.id(), new Action.Acknowledge("seen it"));
        takenIn(finding("ice-1", 2, Step.UPDATED, Stage.EARLY, Priority.MEDIUM, Cause.LOW_CHARGE));
        takenIn(finding("ice-1", 3, Step.UPDATED, Stage.EARLY, Priority.MEDIUM, Cause.LOW_CHARGE));
        takenIn(finding("ice-1", 4, Step.UPDATED, Stage.AT_LIMIT, Priority.HIGH, Cause.LOW_CHARGE));
        act(raised.id(), new Action.Shelve("part on Thursday", now.plus(Duration.ofDays(1))));
        UUID shelf = stage.views().holds().stream()
                .filter(hold -> hold.subject().equals("ice-1"))
                .findFirst()
                .orElseThrow()
                .id();
        stage.actions().endHold(shelf, ADA, "it came");
        takenIn(finding("ice-1", 5, Step.CLEARED, Stage.AT_LIMIT, Priority.HIGH, Cause.LOW_CHARGE));
        act(raised.id(), new Action.Acknowledge("good"));
        assertThat(stage.views().alert(raised.id()).orElseThrow().state()).isEqualTo(AlertState.NORMAL);

        List<String> expected = List.of(
                "raised",
                "acknowledged",
                "cause-changed",
                "raised-again",
                "shelved",
                "counts-again",
                "returned-to-normal",
                "acknowledged");
        await().untilAsserted(() -> assertThat(types(of("ice-1"))).isEqualTo(expected));

        List<ConsumerRecord<byte[], byte[]>> heard = of("ice-1");
        JsonNode changed = JSON.readTree(heard.get(2).value()).path("data");
        assertThat(changed.path("causes").get(0).path("cause").stringValue()).isEqualTo("low-charge");
        JsonNode shelved = JSON.readTree(heard.get(4).value()).path("data");
        assertThat(shelved.path("state").stringValue()).isEqualTo("shelved");
        assertThat(shelved.path("who").stringValue()).isEqualTo("ada");
        assertThat(shelved.path("why").stringValue()).contains("part on Thursday");
        assertThat(heard.stream()
                        .map(each -> JSON.readTree(each.value()).path("id").stringValue()))
                .doesNotHaveDuplicates();
        assertThat(heard.stream()
                        .map(each -> JSON.readTree(each.value())
                                .path("data")
                                .path("version")
                                .asLong()))
                .isSorted();
        List<String> stored = engines.jdbi()
                .withHandle(
                        handle -> handle.createQuery("select cast(id as text) from alert_event where alert = :alert")
                                .bind("alert", raised.id())
                                .mapTo(String.class)
                                .list());
        assertThat(heard.stream()
                        .map(each -> JSON.readTree(each.value()).path("id").stringValue()))
                .as("the ids of what people are told of are the same")
                .containsAll(stored);
    }

    /** CloudEvents 1.0.2, "Context Attributes", and the JSON event format 1.0.2, section 3; checked by hand and by the SDK. */
    @Test
    void event_isACloudEvent() throws Exception {
        Finding raised = finding("ice-2", 1, Step.RAISED, Stage.EARLY, Priority.MEDIUM, Cause.SCALE);
        takenIn(raised);
        await().until(() -> of("ice-2").size() == 1);
        ConsumerRecord<byte[], byte[]> heard = of("ice-2").get(0);

        // Kafka protocol binding 1.0.2, 3.3.1: the header content-type is the media type of the event format
        assertThat(new String(heard.headers().lastHeader("content-type").value(), StandardCharsets.UTF_8))
                .startsWith("application/cloudevents+json");
        JsonNode event = JSON.readTree(heard.value());
        // "Required attributes": id, source and type are non-empty strings, source a URI-reference, specversion "1.0"
        assertThat(event.path("specversion").stringValue()).isEqualTo("1.0");
        assertThat(event.path("id").stringValue()).isNotEmpty();
        assertThat(URI.create(event.path("source").stringValue())).hasToString("urn:rimecast:site:" + raised.site());
        // "type": SHOULD be prefixed with a reverse-DNS name
        assertThat(event.path("type").stringValue()).isEqualTo("dev.rimecast.alert.raised.v1");
        // "Optional attributes": time is RFC 3339, subject a non-empty string, datacontenttype RFC 2046
        assertThat(OffsetDateTime.parse(event.path("time").stringValue()).toInstant())
                .isEqualTo(NOON.plusSeconds(1));
        assertThat(event.path("subject").stringValue()).isEqualTo(raised.id().toString());
        assertThat(event.path("datacontenttype").stringValue()).isEqualTo("application/json");
        // "Naming conventions": lower-case letters and digits only, besides the member "data"
        assertThat(event.propertyNames()).allMatch(name -> name.matches("[a-z0-9]{1,20}"));
        CloudEvent read = EventFormatProvider.getInstance()
                .resolveFormat(JsonFormat.CONTENT_TYPE)
                .deserialize(heard.value());
        assertThat(read.getId()).isEqualTo(event.path("id").stringValue());
        assertThat(StreamSupport.stream(read.getExtensionNames().spliterator(), false))
                .isEmpty();
    }
}
