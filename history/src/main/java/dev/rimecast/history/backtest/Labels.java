package dev.rimecast.history.backtest;

import dev.rimecast.history.backtest.Label.Source;
import dev.rimecast.history.backtest.Label.Verdict;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * Everything that is known of what was right.
 *
 * <table>
 * <caption>What becomes what</caption>
 * <tr><td>truth with a cause</td><td>sound until the onset, a problem from then on, to be known by the deadline</td></tr>
 * <tr><td>truth {@code none}</td><td>sound all the time</td></tr>
 * <tr><td>mark</td><td>as it says</td></tr>
 * <tr><td>visit that names a cause</td><td>a problem of the {@link #LOOKS_BACK} before it, or since the visit before; to be
 *     known by the visit</td></tr>
 * <tr><td>visit, {@code nothing-found}</td><td>sound for the {@link #SOUND} before it, or since the visit before</td></tr>
 * <tr><td>call</td><td>a problem of the {@link #CALL} before it, of a cause that nobody knows</td></tr>
 * </table>
 *
 * @param unknown machines that labels name and nobody has in the register; their labels are left out
 * @param later marks that begin after their machine was heard last, which are left out, too
 */
public record Labels(List<Label> all, Set<String> unknown, int later) {
    private static final Duration LOOKS_BACK = Duration.ofDays(60);
    private static final Duration SOUND = Duration.ofDays(7);
    private static final Duration CALL = Duration.ofHours(72);
    private static final String NOTHING_FOUND = "nothing-found";

    public Labels {
        all = List.copyOf(all);
        unknown = Set.copyOf(unknown);
    }

    /**
     * Puts them together.
     *
     * @param truth truth.csv, where there is one
     * @param marks marks of analysts
     * @throws IOException if a file can't be read
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in a file is wrong
     */
    public static Labels of(Decided decided, Optional<Path> truth, List<Path> marks) throws IOException {
        List<Label> labels = new ArrayList<>();
        for (Path file : marks) {
            labels.addAll(MarksFile.read(file));
        }
        if (truth.isPresent()) {
            for (TruthRow row : TruthFile.read(truth.get())) {
                labels.addAll(truth(row, decided));
            }
        }
        decided.events().forEach(event -> event(event, decided).ifPresent(labels::add));
        Set<String> unknown = new TreeSet<>();
        labels.forEach(label -> label.machine()
                .filter(machine -> decided.machines().stream().noneMatch(m -> m.id().equals(machine)))
                .ifPresent(unknown::add));
        labels.removeIf(label -> label.machine().filter(unknown::contains).isPresent());
        int known = labels.size();
        labels.removeIf(label -> label.source() == Source.MARK && isLater(label, decided));
        int later = known - labels.size();
        labels.sort(Comparator.comparing(Label::from)
                .thenComparing(label -> label.machine().orElse("")));
        return new Labels(labels, unknown, later);
    }

    /** Of a machine that was never heard every one is. */
    private static boolean isLater(Label mark, Decided decided) {
        return mark.machine()
                .map(decided.watched()::get)
                .filter(span -> !mark.from().isAfter(span.to()))
                .isEmpty();
    }

    /** How many are an analyst's marks. */
    public int marks() {
        return count(Source.MARK);
    }

    public int visits() {
        return count(Source.VISIT);
    }

    public int calls() {
        return count(Source.CALL);
    }

    private int count(Source source) {
        return (int) all.stream().filter(label -> label.source() == source).count();
    }

    /** Those of some machines; what is about a whole site is left out. */
    public Labels of(Set<String> machines) {
        return new Labels(
                all.stream()
                        .filter(label ->
                                label.machine().filter(machines::contains).isPresent())
                        .toList(),
                unknown,
                later);
    }

    /**
     * Those of each site that has some: of its machines, and what is about the whole of it.
     *
     * @param siteOf of each machine; labels of others are left out
     */
    public Map<String, Labels> bySite(Map<String, String> siteOf) {
        Map<String, List<Label>> labelled = new HashMap<>();
        for (Label label : all) {
            Optional<String> site =
                    label.machine().isPresent() ? label.machine().map(siteOf::get) : label.site();
            site.ifPresent(of ->
                    labelled.computeIfAbsent(of, each -> new ArrayList<>()).add(label));
        }
        Map<String, Labels> bySite = new HashMap<>();
        labelled.forEach((site, of) -> bySite.put(site, new Labels(of, unknown, later)));
        return bySite;
    }

    private static List<Label> truth(TruthRow row, Decided decided) {
        List<Label> labels = new ArrayList<>();
        Decided.Span span = decided.watched().getOrDefault(row.machine(), new Decided.Span(Instant.EPOCH, Instant.MAX));
        Instant onset = row.onset().orElse(span.to());
        if (span.from().isBefore(onset)) {
            labels.add(label(row.machine(), span.from(), onset, onset, Verdict.NOT, Optional.empty(), Source.TRUTH));
        }
        if (row.cause().isPresent() && onset.isBefore(span.to())) {
            Instant deadline = row.deadline().orElse(span.to());
            labels.add(label(row.machine(), onset, span.to(), deadline, Verdict.REAL, row.cause(), Source.TRUTH));
        }
        return labels;
    }

    private static Optional<Label> event(EventRow event, Decided decided) {
        Instant at = event.at();
        if (event.kind() == EventKind.CALL) {
            return Optional.of(new Label(
                    event.machine(),
                    event.site(),
                    at.minus(CALL),
                    at,
                    at,
                    Verdict.REAL,
                    Optional.empty(),
                    Source.CALL));
        }
        Optional<Cause> cause = Cause.ofCode(event.detail());
        if (event.kind() != EventKind.VISIT
                || event.machine().isEmpty()
                || cause.isEmpty() && !event.detail().equals(NOTHING_FOUND)) {
            return Optional.empty();
        }
        Instant from = decided.events().stream()
                .filter(other ->
                        other.kind() == EventKind.VISIT && other.machine().equals(event.machine()))
                .map(EventRow::at)
                .filter(other -> other.isBefore(at))
                .max(Comparator.naturalOrder())
                .filter(other -> other.isAfter(at.minus(cause.isPresent() ? LOOKS_BACK : SOUND)))
                .orElse(at.minus(cause.isPresent() ? LOOKS_BACK : SOUND));
        return Optional.of(label(
                event.machine().get(),
                from,
                at,
                at,
                cause.isPresent() ? Verdict.REAL : Verdict.NOT,
                cause,
                Source.VISIT));
    }

    private static Label label(
            String machine,
            Instant from,
            Instant until,
            Instant deadline,
            Verdict verdict,
            Optional<Cause> cause,
            Source source) {
        return new Label(Optional.of(machine), Optional.empty(), from, until, deadline, verdict, cause, source);
    }
}
