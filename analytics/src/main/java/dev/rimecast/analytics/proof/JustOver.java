package dev.rimecast.analytics.proof;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import java.util.EnumMap;
import java.util.Map;

/** Conditions that were over lately: work is often written down only when the machine runs again. */
final class JustOver {
    private static final long KEPT_MILLIS = 2 * 86_400_000L;

    private final Map<Condition, Span> spans = new EnumMap<>(Condition.class);

    private record Span(long raisedAt, long overAt) {}

    void over(Condition condition, long raisedAt, long overAt) {
        spans.put(condition, new Span(raisedAt, overAt));
    }

    /** Whether it was there until shortly before that time, at most. */
    boolean isOver(Condition condition, long millis, long shortlyMillis) {
        Span span = spans.get(condition);
        return span != null && span.raisedAt() <= millis && span.overAt() >= millis - shortlyMillis;
    }

    void forget(long millis) {
        spans.values().removeIf(span -> millis - span.overAt() > KEPT_MILLIS);
    }

    void save(StateWriter out) {
        out.u8(spans.size());
        spans.forEach((condition, span) ->
                out.u8(condition.ordinal()).time(span.raisedAt()).time(span.overAt()));
    }

    void restore(StateReader in) {
        for (int n = in.u8(); n > 0; n--) {
            spans.put(Condition.values()[in.u8()], new Span(in.time(), in.time()));
        }
    }
}
