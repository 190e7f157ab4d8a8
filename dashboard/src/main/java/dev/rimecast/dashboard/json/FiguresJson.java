package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.work.WorkFigure;
import java.time.Instant;
import java.util.List;

/** How well work does, from when to when. */
public record FiguresJson(Instant from, Instant to, List<FigureJson> figures) {
    public FiguresJson {
        figures = List.copyOf(figures);
    }

    /**
     * So many of so many.
     *
     * @param unit {@code share} of things, or {@code h}
     */
    public record FigureJson(String figure, String definition, int count, int of, String unit) {}

    public static FiguresJson of(Instant from, Instant to, List<WorkFigure> figures) {
        return new FiguresJson(
                from,
                to,
                figures.stream()
                        .map(each -> new FigureJson(
                                each.code(), each.definition(), each.count(), each.of(), unit(each.unit())))
                        .toList());
    }

    private static String unit(WorkFigure.Unit unit) {
        return switch (unit) {
            case SHARE -> "share";
            case HOURS -> "h";
        };
    }
}
