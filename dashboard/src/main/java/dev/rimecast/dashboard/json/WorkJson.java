package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.work.Charge;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.telemetry.finding.Cause.Origin;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * What was found and done at a machine.
 *
 * @param found a cause, {@code nothing-found} or {@code something-else}
 * @param foundText the engineer's words of something else; left out otherwise
 * @param visit the planned visit that it belongs to
 */
public record WorkJson(
        UUID id,
        Instant time,
        String site,
        String machine,
        String found,
        Optional<String> foundText,
        Optional<String> origin,
        List<DoneJson> done,
        Optional<String> charge,
        String job,
        String note,
        String by,
        Optional<String> certificate,
        Optional<UUID> visit,
        Optional<UUID> caseId,
        String enteredBy,
        Instant enteredAt,
        List<PhotoJson> photos) {

    public WorkJson {
        done = List.copyOf(done);
        photos = List.copyOf(photos);
    }

    /**
     * @param detail part, sensor, refrigerant or words
     * @param grams of refrigerant
     */
    public record DoneJson(String what, Optional<String> detail, Optional<Integer> grams) {
        static DoneJson of(Done done) {
            return new DoneJson(done.deed().code(), text(done.detail()), done.grams());
        }
    }

    /** @param added false where it had been stored before, and nothing was added */
    public record ReportedJson(boolean added, WorkJson work) {}

    public static WorkJson of(StoredWork work) {
        WorkReport report = work.report();
        return new WorkJson(
                report.id(),
                report.at(),
                work.site(),
                work.machine(),
                report.found().code(),
                text(report.found().text()),
                report.origin().map(Origin::code),
                report.done().stream().map(DoneJson::of).toList(),
                report.charge().map(Charge::code),
                report.job(),
                report.note(),
                report.by(),
                text(report.certificate()),
                report.visit(),
                report.caseId(),
                work.enteredBy(),
                work.enteredAt(),
                work.photos().stream().map(PhotoJson::of).toList());
    }

    private static Optional<String> text(String text) {
        return Optional.of(text).filter(words -> !words.isEmpty());
    }
}
