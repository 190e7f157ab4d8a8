package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.limits.FillWatch;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.proof.ProofWatch;
import dev.rimecast.analytics.question.Answers;
import dev.rimecast.analytics.watch.MachineWatch;
import dev.rimecast.analytics.watch.Work;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.HarvestWeight;
import dev.rimecast.telemetry.log.SiteRecord;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * What an event that no probe can see does to the parts of one machine.
 *
 * @param causes what is probably wrong now
 * @param isWaterOfSite whether sensors of other machines tell how its water goes
 */
record Happenings(
        MachineParts parts,
        FindingBook book,
        RuleContext context,
        Supplier<List<ProbableCause>> causes,
        boolean isWaterOfSite,
        SiteMonitor.Output output) {

    void take(SiteRecord.Happened event) {
        EventKind kind = event.kind();
        String detail = event.detail();
        long millis = event.at().toEpochMilli();
        if (kind == EventKind.EXCHANGED || kind == EventKind.MOVED) {
            parts.proofs.end(millis, "The machine was " + kind.code() + ".", context, output::proof);
            book.clearAll(millis, "The machine was " + kind.code() + ".", output::finding);
            parts.fills = new FillWatch();
            parts.acceptance.begin(kind == EventKind.MOVED ? Reason.MOVED : Reason.EXCHANGED, millis);
        }
        if (kind == EventKind.EXCHANGED) {
            parts.watch = new MachineWatch();
            parts.making.exchanged();
        }
        worked(event);
        if (Work.isWork(kind)) {
            parts.worked(millis);
            book.worked(millis, output::finding);
        }
        if (kind == EventKind.SITE_ANSWER && event.machine().isPresent()) {
            answered(event);
        }
        if (kind == EventKind.SENSOR_REPLACED || kind == EventKind.MOVED || kind == EventKind.EXCHANGED) {
            parts.sensors.replaced();
        }
        if (kind == EventKind.HARVEST_WEIGHED) {
            HarvestWeight.kilograms(detail).ifPresent(kilograms -> parts.acceptance.weighed(kilograms, millis));
        }
        if (kind == EventKind.CALL) {
            parts.making.called(detail, event.machine().isPresent(), millis, context, causes);
        }
        parts.making.happened(kind, millis);
        parts.restarts.happened(kind, millis);
        parts.care.happened(kind, detail, millis, context);
    }

    /** What was wrong is noted before anything is learned anew. A visit to the whole site proves only what was wrong. */
    private void worked(SiteRecord.Happened event) {
        EventKind kind = event.kind();
        String detail = event.detail();
        long millis = event.at().toEpochMilli();
        boolean isToProve = Work.isWork(kind)
                && kind != EventKind.EXCHANGED
                && kind != EventKind.MOVED
                && !detail.equals(Work.NOTHING_FOUND);
        if (isToProve) {
            Optional<Cause> found = kind == EventKind.VISIT ? Cause.ofCode(detail) : Optional.empty();
            parts.proofs.worked(
                    new ProofWatch.Job(
                            millis,
                            found,
                            Work.isOfEngineer(kind) && event.machine().isPresent(),
                            Work.isOfCharge(kind, detail)),
                    parts.window.newestMillis(),
                    condition -> parts.watch.complaint(condition, context),
                    context,
                    output::proof);
        }
        parts.watch.work(
                kind, detail, millis, (feature, by) -> isToProve && parts.proofs.touched(feature, by), context);
        boolean isWaterMeasured = isWaterOfSite || parts.place.isWaterMeasured();
        if (kind == EventKind.VISIT && detail.equals(Work.NOTHING_FOUND) && !isWaterMeasured) {
            parts.watch.nothingFound(millis, context);
        }
    }

    private void answered(SiteRecord.Happened event) {
        long millis = event.at().toEpochMilli();
        book.answered(event.detail(), millis, event.by(), output::finding);
        if (Answers.putsRight(event.detail())) {
            parts.watch.putRight(millis, context);
        }
    }
}
