package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.advice.SiteAnswer;
import dev.rimecast.alerts.view.EventView;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * What happened that no probe can see.
 *
 * @param id for asking for what comes after it
 * @param event the word of {@code events.csv}
 * @param text an answer to a question in words; left out for all else
 * @param enteredBy who put it in; left out where the product did
 * @param caseId the case that a call joined
 */
public record EventJson(
        long id,
        Instant time,
        String site,
        Optional<String> machine,
        String event,
        String detail,
        Optional<String> text,
        String by,
        String job,
        Optional<String> enteredBy,
        Optional<Instant> enteredAt,
        Optional<UUID> caseId) {

    /** @param next id to ask on with; left out where there is no more */
    public record PageJson(List<EventJson> events, Optional<Long> next) {
        public PageJson {
            events = List.copyOf(events);
        }
    }

    /** @param added false where it had been reported before, and nothing was added */
    public record ReportedJson(boolean added, EventJson event) {}

    /**
     * What the import of a weather table came to: rows = taken + refused.
     *
     * @param sites that were told
     * @param problems each row that did not go in, with what is wrong
     */
    public record WeatherImportJson(int rows, int taken, int sites, int refused, List<RowProblemJson> problems) {
        public WeatherImportJson {
            problems = List.copyOf(problems);
        }
    }

    /**
     * What an import came to: rows = added + known + refused.
     *
     * @param known rows that had been reported before
     * @param problems each row that did not go in, with what is wrong; a row may have several
     */
    public record ImportJson(int rows, int added, int known, int refused, List<RowProblemJson> problems) {
        public ImportJson {
            problems = List.copyOf(problems);
        }
    }

    /**
     * @param line of the file, counted from 1; 0 for the file as a whole
     * @param column empty for the row as a whole
     */
    public record RowProblemJson(long line, String column, String problem) {}

    public static EventJson of(EventView view) {
        return new EventJson(
                view.id(),
                view.at(),
                view.site(),
                view.machine(),
                view.kind().code(),
                view.detail(),
                SiteAnswer.words(view.kind(), view.detail()),
                view.by(),
                view.job(),
                view.enteredBy(),
                view.enteredAt(),
                view.caseId());
    }

    /** @param limit how many were asked for; {@code events} may have one more, which tells that there are more */
    public static PageJson page(List<EventView> events, int limit) {
        List<EventJson> shown = events.stream().limit(limit).map(EventJson::of).toList();
        return new PageJson(
                shown, events.size() > limit ? Optional.of(shown.get(limit - 1).id()) : Optional.empty());
    }
}
