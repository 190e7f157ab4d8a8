package dev.rimecast.analytics.score;

import dev.rimecast.analytics.score.Score.Beside;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Puts every alert into one heap. */
final class AlertSorting {
    /**
     * What is said of the place or of the link, not of the machine. It is right wherever the record shows it: a room that
     * was out of range, a gateway that was not heard. That one machine is silent behind a gateway that is heard is said
     * of the machine.
     */
    private static final Set<Condition> OF_PLACE_OR_LINK =
            Set.of(Condition.AMBIENT_OUT_OF_RANGE, Condition.WATER_OUT_OF_RANGE, Condition.GATEWAY_SILENT);

    private static final double DAYS_A_YEAR = 365.2425;

    private final ScoreInput input;
    private final FittingConditions fitting;
    private final Places places;
    private final Map<String, List<TruthRow>> truth = new HashMap<>();
    private final List<TruthRow> ofSites = new ArrayList<>();

    private final List<AlertRow> fits = new ArrayList<>();
    private final List<AlertRow> falseAlarms = new ArrayList<>();
    private final List<AlertRow> statements = new ArrayList<>();
    private final List<AlertRow> consequences = new ArrayList<>();
    private final List<AlertRow> care = new ArrayList<>();
    private final List<AlertRow> unjudged = new ArrayList<>();
    private final List<Beside> beside = new ArrayList<>();

    private AlertSorting(ScoreInput input, FittingConditions fitting, Places places) {
        this.input = input;
        this.fitting = fitting;
        this.places = places;
        for (TruthRow row : input.truth()) {
            truth.computeIfAbsent(row.machine(), machine -> new ArrayList<>()).add(row);
            if (row.cause().isPresent() && fitting.isOfSite(row.cause().get())) {
                ofSites.add(row);
            }
        }
    }

    /** Whether it is said of a place or a link, and true wherever the record shows it. */
    static boolean isOfPlaceOrLink(Condition condition) {
        return OF_PLACE_OR_LINK.contains(condition);
    }

    static AlertSorting of(ScoreInput input, FittingConditions fitting, Places places) {
        AlertSorting sorting = new AlertSorting(input, fitting, places);
        input.alerts().forEach(sorting::sort);
        return sorting;
    }

    private void sort(AlertRow alert) {
        if (alert.condition().isCare()) {
            care.add(alert);
        } else if (alert.machine().isEmpty()) {
            (isExplainedBySite(alert) ? fits : statements).add(alert);
        } else if (!truth.containsKey(alert.machine().get())) {
            unjudged.add(alert);
        } else {
            sortOfMachine(alert, truth.getOrDefault(alert.machine().get(), List.of()));
        }
    }

    private void sortOfMachine(AlertRow alert, List<TruthRow> rows) {
        List<TruthRow> begun =
                rows.stream().filter(row -> hasBegun(row, alert.raisedAt())).toList();
        boolean isHit = begun.stream()
                .anyMatch(row -> fitting.fits(alert.condition(), row.cause().orElseThrow()));
        if (isHit) {
            fits.add(alert);
        } else if (!begun.isEmpty()) {
            beside.add(new Beside(begun.get(0).cause().orElseThrow(), alert));
        } else if (isExplainedBySite(alert)) {
            consequences.add(alert);
        } else if (isOfPlaceOrLink(alert.condition())) {
            statements.add(alert);
        } else {
            falseAlarms.add(alert);
        }
    }

    private boolean isExplainedBySite(AlertRow alert) {
        return ofSites.stream()
                .filter(row -> hasBegun(row, alert.raisedAt()))
                .filter(row -> fitting.fits(alert.condition(), row.cause().orElseThrow()))
                .anyMatch(row -> alert.machine().isPresent()
                        ? places.areOnOneSite(alert.machine().get(), row.machine())
                        : places.isAbout(alert, row.machine()));
    }

    private static boolean hasBegun(TruthRow row, Instant at) {
        return row.cause().isPresent() && !at.isBefore(row.onset().orElseThrow());
    }

    /** Time in which nothing was wrong: all of a sound machine's, a faulty one's up to its first onset. */
    double machineYears() {
        double days = 0;
        for (List<TruthRow> rows : truth.values()) {
            Instant end = input.to();
            for (TruthRow row : rows) {
                Instant onset = row.onset().orElse(end);
                end = onset.isBefore(end) ? onset : end;
            }
            days += Math.max(0, Duration.between(input.from(), end).toMillis() / 86_400_000.0);
        }
        return days / DAYS_A_YEAR;
    }

    List<AlertRow> fits() {
        return fits;
    }

    List<AlertRow> falseAlarms() {
        return falseAlarms;
    }

    List<AlertRow> statements() {
        return statements;
    }

    List<AlertRow> consequences() {
        return consequences;
    }

    List<AlertRow> care() {
        return care;
    }

    List<AlertRow> unjudged() {
        return unjudged;
    }

    List<Beside> beside() {
        return beside;
    }
}
