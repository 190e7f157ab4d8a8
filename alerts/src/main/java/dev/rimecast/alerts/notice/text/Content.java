package dev.rimecast.alerts.notice.text;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/**
 * What a notice says, before it is a mail or an event. It is fixed when the notice leaves for the first time, so a repeat
 * says the same.
 *
 * @param asOf when it was so
 * @param lead one or two sentences
 * @param link where to see more
 * @param data the same for a program: texts, numbers, lists and maps only
 */
public record Content(
        Instant asOf, String subject, String lead, List<Section> sections, String link, Map<String, Object> data) {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** Lines under a heading; an empty title has none. */
    public record Section(String title, List<Line> lines) {
        public Section {
            lines = List.copyOf(lines);
        }
    }

    /** A line; an empty label makes it an item of a list. */
    public record Line(String label, String text) {
        static Line item(String text) {
            return new Line("", text);
        }
    }

    public Content {
        sections = List.copyOf(sections);
        data = Map.copyOf(data);
    }

    /** The same with another link. */
    public Content at(String other) {
        return new Content(asOf, subject, lead, sections, other, data);
    }

    public String toJson() {
        return JSON.writeValueAsString(this);
    }

    /** @throws IllegalStateException if the text is of another version */
    public static Content ofJson(String json) {
        try {
            return JSON.readValue(json, Content.class);
        } catch (JacksonException e) {
            throw new IllegalStateException("stored content is not understood: " + e.getOriginalMessage(), e);
        }
    }
}
