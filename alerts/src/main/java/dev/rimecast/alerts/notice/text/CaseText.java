package dev.rimecast.alerts.notice.text;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.text.Content.Line;
import dev.rimecast.alerts.notice.text.Content.Section;
import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Confidence;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A case in words. It asks for a check and never asserts a fault. */
public final class CaseText {
    private final Words words;
    private final String link;

    /** @param link where the pages are, without a slash at the end */
    public CaseText(Words words, String link) {
        this.words = words;
        this.link = link;
    }

    /**
     * @param others what else is open on the site, each in one line
     * @param iceAtRisk whether the site may run out of ice
     */
    public Content of(Kind kind, CaseView view, ZoneId zone, List<CaseView> others, boolean iceAtRisk, Instant now) {
        Optional<AlertView> leading = leading(view);
        List<Section> sections = new ArrayList<>();
        sections.add(new Section("", facts(view, leading, zone)));
        if (kind == Kind.RAISED || kind == Kind.WORSE) {
            leading.map(AlertView::advice).ifPresent(advice -> advise(advice, sections));
            if (!others.isEmpty()) {
                sections.add(new Section(
                        "Also open on this site",
                        others.stream().map(other -> Line.item(oneLine(other))).toList()));
            }
        }
        return new Content(
                now,
                subject(kind, view, leading),
                lead(kind, view, iceAtRisk, zone),
                sections,
                link + "/cases#" + view.id(),
                data(kind, view, leading, iceAtRisk));
    }

    /** The one that counts most; of a case that is over, the first. */
    static Optional<AlertView> leading(CaseView view) {
        return view.alerts().stream()
                .filter(alert -> alert.state().isActive())
                .findFirst()
                .or(() -> view.alerts().stream().findFirst());
    }

    /** What it is about, in a few words. */
    String what(CaseView view) {
        return view.title()
                .or(() -> leading(view).map(alert -> words.of(alert.finding().condition())))
                .orElse("A call from the site");
    }

    /** Which machine, or which place. */
    static String subjectOf(CaseView view) {
        List<String> machines = machines(view);
        return machines.size() == 1
                ? machines.get(0)
                : view.place().filter(p -> !p.isEmpty()).orElse("");
    }

    static List<String> machines(CaseView view) {
        return view.alerts().stream()
                .flatMap(alert -> alert.finding().machine().stream())
                .distinct()
                .sorted()
                .toList();
    }

    static Optional<Instant> actBy(CaseView view) {
        return view.alerts().stream()
                .filter(alert -> alert.state().isActive())
                .flatMap(alert -> alert.advice().latestDate().stream())
                .min(Comparator.naturalOrder());
    }

    String oneLine(CaseView view) {
        String subject = subjectOf(view);
        String cause = leading(view)
                .map(AlertView::finding)
                .filter(finding -> !finding.causes().isEmpty())
                .filter(finding -> view.title().isPresent()
                        || !Words.saysTheSame(
                                finding.condition(), finding.causes().get(0).cause()))
                .map(finding -> " – " + words.cause(finding.causes()))
                .orElse("");
        return (subject.isEmpty() ? "" : subject + ": ") + what(view) + cause;
    }

    private String subject(Kind kind, CaseView view, Optional<AlertView> leading) {
        String about = view.siteName() + ", " + oneOf(subjectOf(view), "the site") + ": " + what(view);
        return switch (kind) {
            case RAISED ->
                "Please check: " + about
                        + leading.map(alert -> " (" + alert.priority().code() + ')')
                                .orElse("");
            case WORSE ->
                "More urgent: " + about
                        + leading.map(alert -> " (" + alert.priority().code() + ')')
                                .orElse("");
            case OVER -> "Over: " + about;
            case PASSED -> "Came and went: " + about;
            case DIGEST, TEST, LINK -> about;
        };
    }

    private static String oneOf(String text, String otherwise) {
        return text.isEmpty() ? otherwise : text;
    }

    private static String lead(Kind kind, CaseView view, boolean iceAtRisk, ZoneId zone) {
        String over = view.closedAt()
                .map(at -> "It ended on " + Words.when(at, zone) + ". ")
                .orElse("");
        return switch (kind) {
            case RAISED -> (iceAtRisk ? "The site may run out of ice. " : "") + "This needs somebody to look at it.";
            case WORSE ->
                (iceAtRisk ? "The site may run out of ice. " : "")
                        + "You were told of this before; it has become more urgent.";
            case OVER -> "You were told of this before. " + over + "Nothing is left to do, unless it comes back.";
            case PASSED ->
                over + "It was over before this notice left. It was urgent enough that somebody should know.";
            case DIGEST, TEST, LINK -> "";
        };
    }

    private List<Line> facts(CaseView view, Optional<AlertView> leading, ZoneId zone) {
        List<Line> facts = new ArrayList<>();
        facts.add(new Line("Site", view.siteName()));
        List<String> machines = machines(view);
        if (!machines.isEmpty()) {
            facts.add(new Line(machines.size() == 1 ? "Machine" : "Machines", String.join(", ", machines)));
        }
        facts.add(new Line("What", what(view)));
        leading.ifPresent(alert -> {
            facts.add(new Line("Seen", alert.finding().summary()));
            alert.silence().ifPresent(silence -> facts.add(new Line("Silence", silence)));
        });
        facts.add(new Line("Since", Words.when(view.openedAt(), zone)));
        leading.ifPresent(alert -> {
            facts.add(new Line("Cause", words.cause(alert.finding().causes())));
            alert.ice().ifPresent(ice -> facts.add(new Line("Ice", ice.words())));
        });
        actBy(view).ifPresent(date -> facts.add(new Line("Act by", Words.when(date, zone))));
        return facts;
    }

    private static void advise(Advice advice, List<Section> sections) {
        sections.add(new Section(
                "What the site can check first",
                advice.siteChecks().stream()
                        .map(check -> Line.item(check.ask()))
                        .toList()));
        sections.add(new Section(
                "Parts usually carried", advice.parts().stream().map(Line::item).toList()));
    }

    private Map<String, Object> data(Kind kind, CaseView view, Optional<AlertView> leading, boolean iceAtRisk) {
        Map<String, Object> data = new LinkedHashMap<>();
        data.put("kind", kind.code());
        data.put("case", view.id().toString());
        data.put("site", view.site());
        data.put("siteName", view.siteName());
        data.put("machines", machines(view));
        data.put("what", what(view));
        data.put("since", view.openedAt().toString());
        data.put("iceAtRisk", iceAtRisk);
        data.put(
                "alerts",
                view.alerts().stream().map(a -> a.finding().id().toString()).toList());
        view.closedAt().ifPresent(at -> data.put("closedAt", at.toString()));
        actBy(view).ifPresent(date -> data.put("actBy", date.toString()));
        leading.ifPresent(alert -> {
            Finding finding = alert.finding();
            data.put("priority", alert.priority().code());
            data.put("condition", finding.condition().code());
            data.put("summary", finding.summary());
            data.put("confidence", Confidence.of(finding.causes()).code());
            finding.probableCause().ifPresent(cause -> {
                data.put("cause", cause.cause().code());
                data.put("probability", cause.probability());
            });
            data.put(
                    "siteChecks",
                    alert.advice().siteChecks().stream()
                            .map(Advice.SiteCheck::ask)
                            .toList());
            data.put("parts", alert.advice().parts());
        });
        return data;
    }
}
