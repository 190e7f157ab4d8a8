package dev.rimecast.alerts.notice.text;

import dev.rimecast.alerts.notice.text.Content.Line;
import dev.rimecast.alerts.notice.text.Content.Section;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** The service manager's morning: what needs a decision today first, then the rest, each case once. */
public final class DigestText {
    private static final DateTimeFormatter SHORT_DAY = DateTimeFormatter.ofPattern("EEE d MMM", Locale.ENGLISH);
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEEE d MMMM yyyy", Locale.ENGLISH);

    private final Words words;
    private final CaseText cases;
    private final String link;

    public DigestText(Words words, String link) {
        this.words = words;
        this.cases = new CaseText(words, link);
        this.link = link;
    }

    /**
     * What a digest is made of.
     *
     * @param cases open ones, and those closed since {@code since}
     * @param ice what the clock of each site that may run out says, by the site's name
     * @param care care that is due
     * @param notHeld work that turned out not to have held, and of which no digest has told yet
     * @param visits open ones: what has to be ordered for them by that day is told
     * @param closed sites and machines that are closed by their own word and since when, by name
     */
    public record Facts(
            LocalDate day,
            ZoneId zone,
            Instant since,
            List<CaseView> cases,
            Map<String, String> ice,
            List<AlertView> care,
            List<Proof> notHeld,
            List<VisitView> visits,
            Map<String, Instant> closed) {}

    public Content of(Facts facts, Instant now) {
        Instant dayEnds = facts.day().plusDays(1).atStartOfDay(facts.zone()).toInstant();
        List<CaseView> left = new ArrayList<>(facts.cases());
        left.sort(byUrgency());
        List<CaseView> over = take(left, view -> view.closedAt().isPresent());
        List<CaseView> today = take(left, view -> needsDecision(view, dayEnds));
        List<CaseView> fresh = take(left, view -> !view.openedAt().isBefore(facts.since()));
        List<Section> sections = new ArrayList<>();
        add(
                sections,
                "Needs a decision today",
                today.stream().map(v -> open(v, facts.zone())).toList());
        add(
                sections,
                "Work that has not held",
                facts.notHeld().stream()
                        .map(proof -> notHeld(proof, facts.zone()))
                        .toList());
        add(
                sections,
                "Ice at risk",
                facts.ice().entrySet().stream()
                        .sorted(Map.Entry.comparingByKey())
                        .map(site -> Line.item(site.getKey() + ": " + site.getValue()))
                        .toList());
        List<Line> orders = facts.visits().stream()
                .flatMap(visit -> orders(visit, facts.day()))
                .toList();
        add(sections, "Parts to order", orders);
        add(sections, "New", fresh.stream().map(v -> open(v, facts.zone())).toList());
        add(
                sections,
                "Still open",
                left.stream().map(v -> open(v, facts.zone())).toList());
        add(sections, "Over", over.stream().map(v -> over(v, facts.zone())).toList());
        add(sections, "Care due", facts.care().stream().map(this::care).toList());
        add(
                sections,
                "Closed by their own word",
                facts.closed().entrySet().stream()
                        .sorted(Map.Entry.comparingByKey())
                        .map(one -> Line.item(one.getKey() + ", since " + Words.briefly(one.getValue(), facts.zone())
                                + ": nobody is told if it makes no ice or is silent."))
                        .toList());
        int open = today.size() + fresh.size() + left.size();
        return new Content(
                now,
                DAY.format(facts.day()) + ": " + count(today.size(), "needs a decision today", "need a decision today")
                        + ", " + open + " open",
                sections.isEmpty()
                        ? "Nothing is open, nothing is due."
                        : "As of " + Words.when(now, facts.zone()) + ", times in that zone.",
                sections,
                link + "/cases",
                Map.ofEntries(
                        Map.entry("kind", "digest"),
                        Map.entry("day", facts.day().toString()),
                        Map.entry("decideToday", ids(today)),
                        Map.entry("new", ids(fresh)),
                        Map.entry("stillOpen", ids(left)),
                        Map.entry("over", ids(over)),
                        Map.entry("sitesWithIceAtRisk", facts.ice().size()),
                        Map.entry("careDue", facts.care().size()),
                        Map.entry("toOrder", orders.size()),
                        Map.entry("closed", facts.closed().size()),
                        Map.entry(
                                "notHeld",
                                facts.notHeld().stream()
                                        .map(proof -> proof.id().toString())
                                        .toList())));
    }

    private static String count(int n, String one, String many) {
        return n == 0 ? "nothing " + one : n + " " + (n == 1 ? one : many);
    }

    private static List<String> ids(List<CaseView> views) {
        return views.stream().map(view -> view.id().toString()).toList();
    }

    /** Its date is today or past, or it is urgent and nobody has said that it was seen. */
    private static boolean needsDecision(CaseView view, Instant dayEnds) {
        boolean isDue =
                CaseText.actBy(view).filter(date -> date.isBefore(dayEnds)).isPresent();
        boolean isUrgent = view.alerts().stream()
                .anyMatch(alert ->
                        alert.state().isActive() && alert.state().needsEyes() && alert.priority() == Priority.URGENT);
        return isDue || isUrgent;
    }

    private static Comparator<CaseView> byUrgency() {
        return Comparator.comparing((CaseView view) -> CaseText.actBy(view).orElse(Instant.MAX))
                .thenComparing(CaseView::siteName)
                .thenComparing(CaseView::openedAt)
                .thenComparing(CaseView::id);
    }

    private static <T> List<T> take(List<T> from, Predicate<T> which) {
        List<T> taken = from.stream().filter(which).toList();
        from.removeAll(taken);
        return taken;
    }

    private static void add(List<Section> sections, String title, List<Line> lines) {
        if (!lines.isEmpty()) {
            sections.add(new Section(title + " (" + lines.size() + ')', lines));
        }
    }

    private Line open(CaseView view, ZoneId zone) {
        Optional<AlertView> leading = CaseText.leading(view);
        String date = CaseText.actBy(view)
                .map(at -> " Act by " + Words.briefly(at, zone) + '.')
                .orElse("");
        String hold = leading.filter(alert -> alert.state().isHeld()).isPresent() ? " Not counted at present." : "";
        String calls = view.calls().isEmpty() ? "" : " The site has called.";
        return Line.item(view.siteName() + ", " + end(cases.oneLine(view)) + date + hold + calls);
    }

    private Line over(CaseView view, ZoneId zone) {
        String at = view.closedAt()
                .map(closed -> ", " + Words.briefly(closed, zone))
                .orElse("");
        return Line.item(view.siteName() + ", " + cases.oneLine(view).replaceFirst(" – .*", "") + at);
    }

    private Line notHeld(Proof proof, ZoneId zone) {
        String cause = proof.cause().map(found -> " (" + words.of(found) + ')').orElse("");
        return Line.item(proof.machine() + ", work of " + Words.briefly(proof.workedAt(), zone) + cause + ": "
                + end(proof.summary()));
    }

    /**
     * What a visit that is to come waits for, from the last day on which it comes in time. Nobody has said whether it is
     * ordered.
     */
    private static Stream<Line> orders(VisitView visit, LocalDate today) {
        return visit.day().isBefore(today)
                ? Stream.empty()
                : visit.orders().stream()
                        .filter(order ->
                                order.isNeeded() && !order.orderBy(visit.day()).isAfter(today))
                        .map(order -> {
                            LocalDate by = order.orderBy(visit.day());
                            String when = by.equals(today)
                                    ? "today is the last day to order it"
                                    : "it was to be ordered by " + SHORT_DAY.format(by)
                                            + "; ordered today it comes after the visit";
                            return Line.item(visit.siteName() + ", visit on " + SHORT_DAY.format(visit.day()) + ": "
                                    + order.part() + ", " + order.days() + (order.days() == 1 ? " day: " : " days: ")
                                    + when
                                    + ", unless it is ordered.");
                        });
    }

    private Line care(AlertView alert) {
        String date = alert.finding().summary();
        return Line.item(alert.siteName() + ", "
                + alert.finding().machine().map(m -> m + ": ").orElse("")
                + words.of(alert.finding().condition()) + ". " + date);
    }

    private static String end(String sentence) {
        return sentence.endsWith(".") ? sentence : sentence + '.';
    }
}
