package dev.rimecast.history.backtest;

import dev.rimecast.history.compare.Difference;
import dev.rimecast.history.compare.Raised;
import dev.rimecast.telemetry.file.result.AlertRow;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** The days that are judged: the last ones that the machines were watched. */
public record Window(Instant from, Instant to) {
    public static Window of(Decided decided, int days) {
        Instant to = decided.watched().values().stream()
                .map(Decided.Span::to)
                .max(Instant::compareTo)
                .orElse(Instant.EPOCH);
        return new Window(to.minus(Duration.ofDays(days)), to);
    }

    /** What was watched in it; labels look at everything that was reported. */
    public Decided of(Decided all) {
        Map<String, Decided.Span> watched = new HashMap<>();
        all.watched().forEach((machine, span) -> {
            Instant begin = span.from().isBefore(from) ? from : span.from();
            if (begin.isBefore(span.to())) {
                watched.put(machine, new Decided.Span(begin, span.to()));
            }
        });
        return new Decided(all.machines(), watched, all.events(), List.of(), all.records(), all.cycles());
    }

    /** Alerts that stood at some time in it. */
    public List<AlertRow> of(List<AlertRow> alerts) {
        return alerts.stream()
                .filter(alert -> !alert.clearedAt().orElse(Instant.MAX).isBefore(from))
                .toList();
    }

    public boolean has(Difference difference) {
        return difference.current().filter(this::has).isPresent()
                || difference.candidate().filter(this::has).isPresent();
    }

    private boolean has(Raised raised) {
        return !raised.clearedAt().orElse(Instant.MAX).isBefore(from);
    }
}
