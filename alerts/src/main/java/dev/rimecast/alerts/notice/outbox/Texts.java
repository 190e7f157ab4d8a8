package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.DigestPlan;
import dev.rimecast.alerts.notice.text.CaseText;
import dev.rimecast.alerts.notice.text.Content;
import dev.rimecast.alerts.notice.text.DigestText;
import dev.rimecast.alerts.notice.text.SitesText;
import dev.rimecast.alerts.notice.text.Words;
import dev.rimecast.alerts.silence.Closure;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Supplier;

/** What notices say, from how things stand when they leave. */
final class Texts {
    private static final int MOST_CASES = 2_000;
    private static final int MOST_OTHERS = 10;

    private final Views views;
    private final Supplier<List<VisitView>> visits;
    private final CaseText cases;
    private final SitesText sites;
    private final DigestText digests;
    private final String link;

    /** @param visits open ones, with what to order for them */
    Texts(Views views, Supplier<List<VisitView>> visits, String link) {
        Words words = Words.standard();
        this.views = views;
        this.visits = visits;
        this.cases = new CaseText(words, link);
        this.sites = new SitesText(cases, link);
        this.digests = new DigestText(words, link);
        this.link = link;
    }

    Content ofCase(Kind kind, UUID caseId, boolean iceAtRisk, Instant now) {
        CaseView view = views.caseOf(caseId)
                .orElseThrow(() -> new IllegalStateException("case " + caseId + " is not in the database any more"));
        List<CaseView> others = views.cases(true, MOST_CASES).stream()
                .filter(other -> other.site().equals(view.site()) && !other.id().equals(caseId))
                .limit(MOST_OTHERS)
                .toList();
        return cases.of(kind, view, zoneOf(view.site()), others, iceAtRisk, now);
    }

    /** The same of many sites. */
    Content ofCases(Kind kind, List<UUID> caseIds, Instant now) {
        Map<String, ZoneId> zones = new TreeMap<>();
        views.sites().forEach(site -> zones.put(site.id(), site.timeZone()));
        List<CaseView> found =
                caseIds.stream().flatMap(id -> views.caseOf(id).stream()).toList();
        return sites.of(kind, found, site -> zones.getOrDefault(site, ZoneOffset.UTC), now);
    }

    /** Of one of many that went in one mail. */
    Content together(Content mail, int others, UUID id) {
        return new Content(
                mail.asOf(),
                mail.subject(),
                "Told in one mail with " + others + " more, " + id + ". " + mail.lead(),
                List.of(),
                mail.link(),
                Map.of("kind", String.valueOf(mail.data().get("kind")), "notice", id.toString()));
    }

    private ZoneId zoneOf(String site) {
        return views.sites().stream()
                .filter(known -> known.id().equals(site))
                .map(Site::timeZone)
                .findFirst()
                .orElse(ZoneOffset.UTC);
    }

    /** What the database knows beside cases and alerts: what the clocks of sites that may run out say, by site. */
    record DigestFacts(Map<String, String> ice, List<Proof> notHeld, List<Closure> closed) {}

    Content ofDigest(DigestPlan plan, LocalDate day, Instant since, DigestFacts facts, Instant now) {
        List<CaseView> mine = views.cases(false, MOST_CASES).stream()
                .filter(view -> isMine(plan, view.site()) && view.mergedInto().isEmpty())
                .filter(view -> view.closedAt().filter(at -> at.isBefore(since)).isEmpty())
                .toList();
        List<AlertView> care = views.alerts(AlertFilter.OPEN, MOST_CASES).stream()
                .filter(alert -> alert.finding().condition().isCare()
                        && alert.state().isActive()
                        && isMine(plan, alert.finding().site()))
                .toList();
        Map<String, String> names = new TreeMap<>();
        views.sites().forEach(site -> names.put(site.id(), site.name()));
        Map<String, String> iceByName = new TreeMap<>();
        facts.ice().forEach((site, words) -> {
            if (isMine(plan, site)) {
                iceByName.put(names.getOrDefault(site, site), words);
            }
        });
        Map<String, Instant> closed = new TreeMap<>();
        for (Closure closure : facts.closed()) {
            if (isMine(plan, closure.site())) {
                String site = names.getOrDefault(closure.site(), closure.site());
                closed.put(closure.machine().map(id -> site + ", " + id).orElse(site), closure.since());
            }
        }
        return digests.of(
                new DigestText.Facts(
                        day,
                        plan.zone(),
                        since,
                        mine,
                        iceByName,
                        care,
                        facts.notHeld().stream()
                                .filter(proof -> isMine(plan, proof.site()))
                                .toList(),
                        visits.get().stream()
                                .filter(visit -> isMine(plan, visit.site()))
                                .toList(),
                        closed),
                now);
    }

    private static boolean isMine(DigestPlan plan, String site) {
        return plan.sites().isEmpty() || plan.sites().contains(site);
    }

    Content test(String receiver, String who, Instant now) {
        return new Content(
                now,
                "A test for " + receiver,
                who + " tries whether notices arrive here. Nothing is wrong, nothing is to be done.",
                List.of(),
                link + "/notices",
                Map.of("kind", "test", "receiver", receiver));
    }
}
