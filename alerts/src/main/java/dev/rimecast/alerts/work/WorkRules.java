package dev.rimecast.alerts.work;

import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Writing;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** What a report of work may say. */
public final class WorkRules {
    public static final int MOST_DONE = 30;
    public static final int LONGEST_NOTE = 2_000;
    /** More than any machine of this size holds: a number above it is a slip of the finger. */
    public static final int MOST_GRAMS = 20_000;

    /** Designations of ASHRAE 34, such as R290, R134a, R404A, R1234ze(E). */
    private static final Pattern REFRIGERANT = Pattern.compile("R[0-9]{1,4}[A-Za-z]{0,2}(\\([EZ]\\))?");

    /**
     * What is wrong.
     *
     * @param member of the report, e.g. {@code done[1].grams}
     * @param reason in words after the member's name
     */
    public record Wrong(String member, String reason) {}

    private WorkRules() {}

    /** The first that is wrong; absent where nothing is. */
    public static Optional<Wrong> wrong(WorkReport report, Instant now) {
        return time(report.at(), now)
                .or(() -> found(report))
                .or(() -> done(report.done()))
                .or(() -> text("job", report.job(), Events.LONGEST_TEXT))
                .or(() -> text("by", report.by(), Events.LONGEST_TEXT))
                .or(() -> text("certificate", report.certificate(), Events.LONGEST_TEXT))
                .or(() -> text("note", report.note(), LONGEST_NOTE));
    }

    private static Optional<Wrong> time(Instant at, Instant now) {
        if (Duration.between(now, at).compareTo(Events.MOST_AHEAD) > 0) {
            return wrong("time", "is in the future: report work once it is done");
        }
        return Duration.between(at, now).compareTo(Events.OLDEST) > 0
                ? wrong(
                        "time",
                        "is more than " + Events.OLDEST.toDays() + " days ago, further back than detection looks")
                : Optional.empty();
    }

    private static Optional<Wrong> found(WorkReport report) {
        if (report.found() instanceof Found.SomethingElse other) {
            return other.text().isBlank()
                    ? wrong("foundText", "is missing: say in a few words what was found")
                    : text("foundText", other.text(), Events.LONGEST_TEXT);
        }
        return report.found() instanceof Found.Nothing && report.origin().isPresent()
                ? wrong("origin", "belongs to something that was found: leave it out")
                : Optional.empty();
    }

    private static Optional<Wrong> done(List<Done> done) {
        if (done.isEmpty()) {
            return wrong("done", "is empty: say what was done, or nothing");
        }
        if (done.size() > MOST_DONE) {
            return wrong("done", "has more than " + MOST_DONE + " entries");
        }
        if (done.size() > 1 && done.stream().anyMatch(each -> each.deed() == Deed.NOTHING)) {
            return wrong("done", "says nothing, and something beside it");
        }
        Set<Done> seen = new HashSet<>();
        for (int i = 0; i < done.size(); i++) {
            Done each = done.get(i);
            Optional<Wrong> wrong = one("done[" + i + ']', each);
            if (wrong.isPresent()) {
                return wrong;
            }
            if (!seen.add(each)) {
                return wrong("done[" + i + ']', "is there twice");
            }
        }
        return Optional.empty();
    }

    private static Optional<Wrong> one(String member, Done done) {
        String detail = done.detail();
        Optional<Wrong> wrong = switch (done.deed().detail()) {
            case NONE ->
                detail.isEmpty()
                        ? Optional.empty()
                        : wrong(member + ".detail", "is not for " + done.deed().code());
            case WORDS -> Optional.empty();
            case PART -> detail.isBlank() ? wrong(member + ".detail", "must say which part") : Optional.empty();
            case SENSOR ->
                Deed.SENSORS.contains(detail)
                        ? Optional.empty()
                        : wrong(member + ".detail", "must be one of " + String.join(", ", Deed.SENSORS));
            case REFRIGERANT ->
                REFRIGERANT.matcher(detail).matches()
                        ? Optional.empty()
                        : wrong(member + ".detail", "must be the refrigerant as on the rating plate, such as R290");
        };
        return wrong.or(() -> grams(member + ".grams", done))
                .or(() -> text(member + ".detail", detail, Events.LONGEST_TEXT));
    }

    private static Optional<Wrong> grams(String member, Done done) {
        if (!done.deed().isRefrigerant()) {
            return done.grams().isPresent()
                    ? wrong(member, "is not for " + done.deed().code())
                    : Optional.empty();
        }
        return done.grams().filter(grams -> grams >= 1 && grams <= MOST_GRAMS).isEmpty()
                ? wrong(member, "must be whole grams from 1 to " + MOST_GRAMS)
                : Optional.empty();
    }

    private static Optional<Wrong> text(String member, String text, int longest) {
        if (!Writing.canBeKept(text)) {
            return wrong(member, Writing.WRONG);
        }
        return text.length() <= longest
                ? Optional.empty()
                : wrong(member, "must be at most " + longest + " characters");
    }

    private static Optional<Wrong> wrong(String member, String reason) {
        return Optional.of(new Wrong(member, reason));
    }

    /** Codes that can be found, for whoever asks what they are. */
    public static List<String> foundCodes() {
        return Stream.concat(
                        Stream.of(Found.NOTHING, Found.SOMETHING_ELSE),
                        Stream.of(Cause.values()).map(Cause::code))
                .toList();
    }
}
