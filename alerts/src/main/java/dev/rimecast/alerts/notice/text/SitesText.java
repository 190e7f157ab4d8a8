package dev.rimecast.alerts.notice.text;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.text.Content.Line;
import dev.rimecast.alerts.notice.text.Content.Section;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** One trouble of many sites in one mail: how many, which, since when, the most urgent first. */
public final class SitesText {
    private final CaseText cases;
    private final String link;

    /** @param link where the pages are, without a slash at the end */
    public SitesText(CaseText cases, String link) {
        this.cases = cases;
        this.link = link;
    }

    /**
     * @param views one for each site, of one kind of trouble, at least one
     * @param zones of a site, by its id
     */
    public Content of(Kind kind, List<CaseView> views, Function<String, ZoneId> zones, Instant now) {
        List<CaseView> sorted = views.stream()
                .sorted(Comparator.comparing(SitesText::priority).thenComparing(CaseView::siteName))
                .toList();
        CaseView first =
                sorted.stream().min(Comparator.comparing(CaseView::openedAt)).orElseThrow();
        long sites = sorted.stream().map(CaseView::site).distinct().count();
        // What it is called for several machines, where a site has several.
        CaseView largest = sorted.stream()
                .max(Comparator.comparingInt(view -> CaseText.machines(view).size()))
                .orElseThrow();
        String about = sites + " sites: " + cases.what(largest);
        return new Content(
                now,
                subject(kind, about, sorted),
                lead(kind, about, first, zones.apply(first.site())),
                List.of(new Section(
                        "Sites",
                        sorted.stream().map(view -> line(kind, view, zones)).toList())),
                link + "/cases",
                Map.of(
                        "kind", kind.code(),
                        "common", first.common().orElse(""),
                        "cases",
                                sorted.stream()
                                        .map(view -> view.id().toString())
                                        .toList(),
                        "sites", sorted.stream().map(CaseView::site).toList()));
    }

    private static Priority priority(CaseView view) {
        return CaseText.leading(view).map(AlertView::priority).orElse(Priority.LOW);
    }

    private static String subject(Kind kind, String about, List<CaseView> sorted) {
        String begin = kind == Kind.RAISED ? "Please check " : kind == Kind.WORSE ? "More urgent at " : "";
        return switch (kind) {
            case RAISED, WORSE -> begin + about + " (" + priority(sorted.get(0)).code() + ')';
            case OVER -> "Over at " + about;
            case PASSED -> "Came and went at " + about;
            case DIGEST, TEST, LINK -> about;
        };
    }

    private static String lead(Kind kind, String about, CaseView first, ZoneId zone) {
        String since = about + ", the first since " + Words.when(first.openedAt(), zone) + ". ";
        return switch (kind) {
            case RAISED, WORSE ->
                since
                        + "So many at once probably have one cause outside the machines, such as a supply or a network of the region: "
                        + "find that out before anybody drives there. The most urgent come first.";
            case OVER -> "Over at " + since;
            case PASSED -> since + "It was over before anybody could be told.";
            case DIGEST, TEST, LINK -> since;
        };
    }

    private Line line(Kind kind, CaseView view, Function<String, ZoneId> zones) {
        Optional<AlertView> leading = CaseText.leading(view);
        int machines = CaseText.machines(view).size();
        StringBuilder text =
                new StringBuilder("since ").append(Words.briefly(view.openedAt(), zones.apply(view.site())));
        if (machines > 0) {
            text.append(machines == 1 ? ", 1 machine" : ", " + machines + " machines");
        }
        if (kind == Kind.RAISED || kind == Kind.WORSE) {
            leading.ifPresent(alert -> text.append(", ").append(alert.priority().code()));
            leading.flatMap(AlertView::ice).ifPresent(ice -> text.append(". ").append(ice.words()));
        }
        return new Line(view.siteName(), text.toString());
    }
}
