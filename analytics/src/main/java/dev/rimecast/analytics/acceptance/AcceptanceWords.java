package dev.rimecast.analytics.acceptance;

import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What is said of an acceptance, for the record. */
final class AcceptanceWords {
    private AcceptanceWords() {}

    static String of(
            Verdict verdict,
            Probes probes,
            List<Shown> shown,
            Optional<Rating> rating,
            List<Condition> wrong,
            boolean isLast) {
        return switch (verdict) {
            case ACCEPTED -> "Accepted: " + good(shown, rating) + '.';
            case NOT_ACCEPTED -> "Not accepted: " + String.join("; ", bad(probes, shown, rating, wrong)) + '.';
            case NOT_YET_KNOWN -> "Not yet known: " + open(probes, shown, isLast) + '.';
        };
    }

    private static String good(List<Shown> shown, Optional<Rating> rating) {
        List<String> names = shown.stream()
                .filter(each -> each.verdict() == Verdict.ACCEPTED)
                .map(each -> name(each.feature()))
                .toList();
        String features = names.size() == 1
                ? names.get(0) + " is"
                : String.join(", ", names.subList(0, names.size() - 1)) + " and " + names.get(names.size() - 1)
                        + " are";
        return features + " what its kind does in these conditions"
                + rating.map(each -> String.format(
                                Locale.ROOT,
                                ", and it makes %.1f kg a day where its rating allows %.1f",
                                each.madeKgPerDay(),
                                each.allowedKgPerDay()))
                        .orElse("");
    }

    private static List<String> bad(Probes probes, List<Shown> shown, Optional<Rating> rating, List<Condition> wrong) {
        List<String> bad = new ArrayList<>();
        if (probes == Probes.SWAPPED) {
            bad.add("the two probes are swapped");
        }
        shown.stream()
                .filter(each -> each.verdict() == Verdict.NOT_ACCEPTED)
                .map(AcceptanceWords::beside)
                .forEach(bad::add);
        rating.filter(each -> each.verdict() == Verdict.NOT_ACCEPTED)
                .map(each -> String.format(
                        Locale.ROOT,
                        "it makes %.1f kg a day where its rating allows %.1f",
                        each.madeKgPerDay(),
                        each.allowedKgPerDay()))
                .ifPresent(bad::add);
        wrong.forEach(condition -> bad.add(condition.code().replace('-', ' ') + " is open"));
        return bad;
    }

    private static String beside(Shown shown) {
        Feature feature = shown.feature();
        return String.format(
                Locale.ROOT,
                "%s is %s %s, its kind does %s to %s",
                name(feature),
                number(feature, shown.measured()),
                feature.unit(),
                number(feature, shown.low()),
                number(feature, shown.high()));
    }

    private static String number(Feature feature, double value) {
        return String.format(Locale.ROOT, feature.unit().equals("s") ? "%.0f" : "%.1f", value);
    }

    private static String open(Probes probes, List<Shown> shown, boolean isLast) {
        if (isLast) {
            return shown.isEmpty()
                    ? "the first cycles could not be judged"
                    : "nothing is beside its kind, but that is known only roughly";
        }
        if (shown.isEmpty()) {
            return "the first cycles are made by a warm plate and say little";
        }
        return probes == Probes.NOT_YET_KNOWN
                ? "no harvest has told the probes apart yet"
                : "some cycles more are needed";
    }

    static String name(Feature feature) {
        return switch (feature) {
            case PULL_DOWN -> "pull-down";
            case SPLIT -> "condensing temperature over ambient";
            case FREEZE, HARVEST, EVAPORATOR_END, DRAIN_LEVEL, DRAIN_RUN, FILL, WATER_USE, ICE_MADE ->
                feature.code().replace('-', ' ');
        };
    }
}
