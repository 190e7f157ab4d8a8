package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.dashboard.json.QuestionJson.AnsweredJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * An alert with everything that is known about it: evidence, advice and history.
 *
 * @param notHeld work on its machine that has not held, the newest first; only where one alert is asked for
 */
public record AlertJson(
        AlertSummaryJson alert,
        int revision,
        Instant updatedAt,
        Optional<String> acknowledgedBy,
        Optional<Instant> acknowledgedAt,
        Optional<String> assignee,
        List<DiagnosisJson> diagnosis,
        Optional<MeasureJson> measure,
        AdviceJson advice,
        Optional<QuestionJson> question,
        List<AnsweredJson> answers,
        List<AuditJson> history,
        Optional<List<NotHeldJson>> notHeld,
        String detectorVersion,
        String policyVersion) {

    /** A cause with the evidence for and against it, most probable first. */
    public record DiagnosisJson(
            String cause,
            double probability,
            String origin,
            List<String> evidenceFor,
            List<String> evidenceAgainst,
            List<AnsweredJson> answersFor,
            List<AnsweredJson> answersAgainst) {}

    /** The number behind it. */
    public record MeasureJson(
            String quantity,
            String unit,
            double value,
            @Nullable Double expected,
            @Nullable Double limit) {}

    /** What to do. */
    public record AdviceJson(
            String about,
            String headline,
            List<String> siteChecks,
            List<Advice.EngineerCheck> engineerChecks,
            List<String> parts,
            int minutes,
            List<String> skills,
            List<String> cautions,
            List<String> deferTo,
            Optional<Instant> latestDate) {}

    /** Who did what, when and why. */
    public record AuditJson(Instant at, String who, String what, String why) {}

    public static AlertJson of(AlertView view) {
        return of(view, Optional.empty());
    }

    public static AlertJson of(AlertView view, List<Proof> notHeld) {
        return of(view, Optional.of(notHeld.stream().map(NotHeldJson::of).toList()));
    }

    private static AlertJson of(AlertView view, Optional<List<NotHeldJson>> notHeld) {
        Finding finding = view.finding();
        return new AlertJson(
                AlertSummaryJson.of(view),
                finding.revision(),
                finding.at(),
                view.acknowledgedBy(),
                view.acknowledgedAt(),
                view.assignee(),
                finding.causes().stream()
                        .map(cause -> diagnosis(cause, finding.inquiry()))
                        .toList(),
                finding.measure().map(AlertJson::measure),
                advice(view.advice()),
                QuestionJson.of(finding.inquiry(), view.advice()),
                QuestionJson.given(finding.inquiry()),
                view.audit().stream()
                        .map(line -> new AuditJson(line.at(), line.who(), line.what(), line.why()))
                        .toList(),
                notHeld,
                finding.detectorVersion(),
                finding.policyVersion());
    }

    private static DiagnosisJson diagnosis(Finding.ProbableCause cause, Inquiry inquiry) {
        return new DiagnosisJson(
                cause.cause().code(),
                Rounded.to3(cause.probability()),
                cause.cause().origin().code(),
                cause.evidenceFor(),
                cause.evidenceAgainst(),
                QuestionJson.speakingFor(inquiry, cause.cause()),
                QuestionJson.speakingAgainst(inquiry, cause.cause()));
    }

    static MeasureJson measure(Finding.Measure measure) {
        return new MeasureJson(
                measure.quantity(),
                measure.unit(),
                Rounded.to2(measure.value()),
                Rounded.orNull2(measure.expected()),
                Rounded.orNull2(measure.limit()));
    }

    private static AdviceJson advice(Advice advice) {
        return new AdviceJson(
                advice.about(),
                advice.headline(),
                advice.siteChecks().stream().map(Advice.SiteCheck::ask).toList(),
                advice.engineerChecks(),
                advice.parts(),
                advice.minutes(),
                advice.skills(),
                advice.cautions(),
                advice.deferTo(),
                advice.latestDate());
    }
}
