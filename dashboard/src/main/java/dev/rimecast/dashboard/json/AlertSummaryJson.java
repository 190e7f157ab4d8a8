package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Confidence;
import dev.rimecast.alerts.view.SiteIce;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * An alert in a list.
 *
 * @param state in the words of ISA-18.2
 * @param version send it back with an action
 * @param confidence {@code likely}, {@code possible} or {@code cannot-tell}
 * @param causes at most two
 * @param hasIt who has it: whom it was given to, else who saw it
 * @param hold what keeps it from counting
 * @param caseId the case that it is part of
 * @param priorityWhy the rule that decided the priority; left out where detection's own stands
 * @param ice how the site stands for ice, in a sentence
 * @param iceSays what the site's ice clock says: {@code short}, {@code enough} or {@code not-known}
 * @param silence which silence it is, for an alert about one
 */
public record AlertSummaryJson(
        UUID id,
        Optional<String> machine,
        Optional<String> gateway,
        String site,
        String siteName,
        String condition,
        String stage,
        String priority,
        String state,
        long version,
        Instant raisedAt,
        Optional<Instant> clearedAt,
        String summary,
        String headline,
        String confidence,
        List<CauseJson> causes,
        Optional<LimitExpectedJson> limitExpected,
        Optional<Instant> actBy,
        Optional<String> hasIt,
        Optional<String> acknowledgedBy,
        Optional<HoldJson> hold,
        Optional<UUID> caseId,
        Optional<String> priorityWhy,
        Optional<String> ice,
        Optional<String> iceSays,
        Optional<String> silence) {

    /** A cause and how probable it is, 0 to 1. */
    public record CauseJson(String cause, double probability, String origin) {}

    /** When the limit is reached: most likely, and the ends of the 80 % interval. */
    public record LimitExpectedJson(Instant at, Instant early, Instant late) {}

    public static AlertSummaryJson of(AlertView view) {
        Finding finding = view.finding();
        return new AlertSummaryJson(
                finding.id(),
                finding.machine(),
                finding.gateway(),
                finding.site(),
                view.siteName(),
                finding.condition().code(),
                finding.stage().code(),
                view.priority().code(),
                view.state().code(),
                view.version(),
                finding.raisedAt(),
                view.clearedAt(),
                finding.summary(),
                view.advice().headline(),
                Confidence.of(finding.causes()).code(),
                finding.causes().stream().limit(2).map(AlertSummaryJson::cause).toList(),
                finding.limit().map(limit -> new LimitExpectedJson(limit.at(), limit.early(), limit.late())),
                actBy(view),
                view.assignee().or(view::acknowledgedBy),
                view.acknowledgedBy(),
                view.hold().map(HoldJson::of),
                view.caseId(),
                Optional.of(view.priorityWhy()).filter(why -> !why.isEmpty()),
                view.ice().map(SiteIce::words),
                view.ice().map(ice -> ice.says().code()),
                view.silence());
    }

    /** The latest date of the advice, else the expected moment of the limit. */
    private static Optional<Instant> actBy(AlertView view) {
        return view.advice().latestDate().or(() -> view.finding().limit().map(Finding.LimitExpected::at));
    }

    private static CauseJson cause(Finding.ProbableCause cause) {
        return new CauseJson(
                cause.cause().code(),
                Rounded.to3(cause.probability()),
                cause.cause().origin().code());
    }
}
