package dev.rimecast.alerts.notice.text;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** A notice as a CloudEvent 1.0 in structured JSON (CloudEvents JSON event format 1.0.2, section 3). */
public final class CloudEvent {
    /** The media type of the structured mode. */
    public static final String MEDIA_TYPE = "application/cloudevents+json; charset=UTF-8";

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private CloudEvent() {}

    /**
     * The bytes are a function of the arguments: a repeat is the same.
     *
     * @param id of the notice
     * @param source where the pages are: tells one installation from another
     */
    public static byte[] encode(UUID id, String kind, String source, Content content) {
        Map<String, Object> event = new LinkedHashMap<>();
        event.put("specversion", "1.0");
        event.put("id", id.toString());
        event.put("source", source);
        event.put("type", "dev.rimecast.notice." + kind + ".v1");
        Object about = content.data().get("case");
        if (about != null) {
            event.put("subject", about);
        }
        event.put("time", content.asOf().toString());
        event.put("datacontenttype", "application/json");
        Map<String, Object> data = new java.util.TreeMap<>(content.data());
        data.put("title", content.subject());
        data.put("text", Rendering.plain(content));
        data.put("link", content.link());
        event.put("data", data);
        return JSON.writeValueAsBytes(event);
    }
}
