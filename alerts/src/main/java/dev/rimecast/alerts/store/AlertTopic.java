package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.NameBasedId;
import dev.rimecast.telemetry.log.Topics;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import tools.jackson.databind.json.JsonMapper;

/**
 * What happened to an alert, for whoever listens to the topic {@code alerts}: a CloudEvent 1.0 in structured JSON, with
 * the machine as key, through the outbox in the transaction of the change. A repeat has the same id and bytes. Whoever
 * changes an alert holds its site's lock, so the events of one machine are in order.
 */
final class AlertTopic {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private AlertTopic() {}

    /** The event's id: the same for the same change of the same alert, also in {@code alert_event}. */
    static UUID idOf(UUID alert, long version) {
        return NameBasedId.of("alert-event|" + alert + '|' + version);
    }

    /**
     * Tells of the row as it stands now.
     *
     * @param what one or two words, as in the audit; the event's type is made of it
     */
    static void tell(Handle handle, UUID alert, Instant at, String who, String what, String why) {
        StoredAlert row = StoredAlert.read(handle, alert).orElseThrow();
        Finding finding = row.finding();
        Outbox.toListeners(
                handle,
                Topics.ALERTS,
                finding.machine().or(finding::gateway).orElse(finding.site()),
                encode(row, at, who, what, why));
    }

    private static byte[] encode(StoredAlert row, Instant at, String who, String what, String why) {
        Finding finding = row.finding();
        Map<String, Object> event = new LinkedHashMap<>();
        event.put("specversion", "1.0");
        event.put("id", idOf(finding.id(), row.version()).toString());
        event.put("source", "urn:rimecast:site:" + finding.site());
        event.put("type", "dev.rimecast.alert." + what.replaceAll("[^a-z]+", "-") + ".v1");
        event.put("subject", finding.id().toString());
        event.put("time", at.toString());
        event.put("datacontenttype", "application/json");
        event.put("data", data(row, who, why));
        return JSON.writeValueAsBytes(event);
    }

    private static Map<String, Object> data(StoredAlert row, String who, String why) {
        Finding finding = row.finding();
        Map<String, Object> data = new LinkedHashMap<>();
        data.put("alert", finding.id().toString());
        data.put("version", row.version());
        data.put("revision", finding.revision());
        data.put("site", finding.site());
        finding.machine().ifPresent(machine -> data.put("machine", machine));
        finding.gateway().ifPresent(gateway -> data.put("gateway", gateway));
        data.put("condition", finding.condition().code());
        data.put("state", row.life().state().code());
        data.put("stage", finding.stage().code());
        data.put("priority", row.priority().code());
        data.put("raisedAt", finding.raisedAt().toString());
        row.clearedAt().ifPresent(cleared -> data.put("clearedAt", cleared.toString()));
        row.actBy().ifPresent(date -> data.put("actBy", date.toString()));
        row.assignee().ifPresent(name -> data.put("assignee", name));
        data.put("causes", finding.causes().stream().map(AlertTopic::cause).toList());
        data.put("summary", finding.summary());
        data.put("who", who);
        data.put("why", why);
        return data;
    }

    private static Map<String, Object> cause(ProbableCause cause) {
        Map<String, Object> named = new LinkedHashMap<>();
        named.put("cause", cause.cause().code());
        named.put("probability", cause.probability());
        return named;
    }

    /** Whether two findings of one alert name another cause first. */
    static boolean isAnotherCause(Finding before, Finding after) {
        return !leading(before.causes()).equals(leading(after.causes()));
    }

    private static String leading(List<ProbableCause> causes) {
        return causes.isEmpty() ? "" : causes.get(0).cause().code();
    }
}
