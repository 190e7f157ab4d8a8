package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Inquiries.LinkOutcome;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteCheckView;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.alerts.view.SiteCheckView.Choice;
import dev.rimecast.alerts.view.SiteChecks;
import dev.rimecast.alerts.view.SiteLinkView;
import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.alerts.view.SiteLinkView.Receipt;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.log.EventKind;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

/** Links of sites in memory: three questions one after the other, and over as soon as the machine's alerts are. */
public final class FakeSiteLinks implements SiteChecks {
    private static final List<String> ASKED = List.of("air-filter", "things-around", "air-blows");

    private static final class Link {
        final UUID id = UUID.randomUUID();
        final CaseView of;
        final String machine;
        final String madeBy;
        final Instant madeAt;
        Instant endsAt;
        Optional<String> revokedBy = Optional.empty();
        final List<Answered> answers = new ArrayList<>();
        Optional<String> mailedTo = Optional.empty();

        Link(CaseView of, String machine, String madeBy, Instant madeAt) {
            this.of = of;
            this.machine = machine;
            this.madeBy = madeBy;
            this.madeAt = madeAt;
            this.endsAt = madeAt.plus(Duration.ofHours(48));
        }
    }

    private final FakeFleet fleet;
    private final FakeChanges changes;
    private final InstantSource clock;
    private final Map<String, Link> links = new LinkedHashMap<>();

    FakeSiteLinks(FakeFleet fleet, FakeChanges changes, InstantSource clock) {
        this.fleet = fleet;
        this.changes = changes;
        this.clock = clock;
    }

    /** Lets the time of every link pass. */
    public synchronized void passTime() {
        links.values().forEach(link -> link.endsAt = clock.instant());
    }

    /** The secret of a new link for a machine of a case. */
    public String secret(UUID caseId, String machine) {
        return ((LinkOutcome.Made) ask(caseId, Optional.of(machine), new Person(FakeServer.OPERATOR))).secret();
    }

    synchronized LinkOutcome ask(UUID caseId, Optional<String> machine, Person who) {
        Optional<CaseView> found = fleet.caseOf(caseId);
        if (found.isEmpty()) {
            return new LinkOutcome.NoSuchCase();
        }
        Optional<String> about = machine.or(() -> found.get().subject());
        if (about.isEmpty()) {
            return new LinkOutcome.NotAllowed("Say which machine it is about.");
        }
        String secret = Secret.make();
        Link link = new Link(found.get(), about.get(), who.name(), clock.instant());
        links.put(secret, link);
        return new LinkOutcome.Made(secret, view(link));
    }

    /** The same, as sent: nobody here sees the secret. */
    synchronized LinkOutcome mail(UUID caseId, Optional<String> machine, Person who) {
        LinkOutcome asked = ask(caseId, machine, who);
        if (!(asked instanceof LinkOutcome.Made made)) {
            return asked;
        }
        Link link = Objects.requireNonNull(links.get(made.secret()));
        link.mailedTo = Optional.of("bar@" + link.of.site() + ".example");
        return new LinkOutcome.Mailed(view(link));
    }

    synchronized List<SiteLinkView> list(SiteScope sites) {
        return links.values().stream()
                .filter(link -> sites.includes(link.of.site()))
                .map(this::view)
                .toList();
    }

    synchronized boolean revoke(UUID id, Person who) {
        Optional<Link> link = links.values().stream()
                .filter(each -> each.id.equals(id) && each.revokedBy.isEmpty())
                .findFirst();
        link.ifPresent(each -> each.revokedBy = Optional.of(who.name()));
        return link.isPresent();
    }

    private boolean isOver(Link link) {
        return fleet.caseOf(link.of.id()).orElseThrow().alerts().stream()
                .filter(alert -> alert.finding().machine().equals(Optional.of(link.machine)))
                .noneMatch(alert -> alert.clearedAt().isEmpty());
    }

    private Optional<Receipt> receipt(Link link) {
        return link.answers.stream()
                .filter(Answered::putsRight)
                .filter(answer -> isOver(link))
                .findFirst()
                .map(answer -> new Receipt(answer, overAt(link), 4, false));
    }

    private Instant overAt(Link link) {
        return fleet.caseOf(link.of.id()).orElseThrow().alerts().stream()
                .map(AlertView::clearedAt)
                .flatMap(Optional::stream)
                .findFirst()
                .orElseThrow();
    }

    private SiteLinkView view(Link link) {
        SiteLinkView.State state = receipt(link).isPresent()
                ? SiteLinkView.State.OVER
                : link.revokedBy.isPresent()
                        ? SiteLinkView.State.REVOKED
                        : clock.instant().isBefore(link.endsAt) ? SiteLinkView.State.OPEN : SiteLinkView.State.ENDED;
        return new SiteLinkView(
                link.id,
                link.of.id(),
                link.of.site(),
                link.machine,
                link.madeBy,
                link.madeAt,
                link.endsAt,
                state,
                link.revokedBy,
                link.mailedTo,
                link.answers,
                receipt(link));
    }

    private SiteCheckView forSite(Link link) {
        Optional<Check> next = link.answers.size() == ASKED.size() || isOver(link)
                ? Optional.empty()
                : QuestionTexts.STANDARD.of(ASKED.get(link.answers.size())).map(FakeSiteLinks::check);
        Optional<Receipt> receipt = receipt(link);
        SiteCheckView.State state = receipt.isPresent()
                ? SiteCheckView.State.OVER
                : isOver(link)
                        ? SiteCheckView.State.SETTLED
                        : next.isPresent() ? SiteCheckView.State.ASKING : SiteCheckView.State.WATCHING;
        return new SiteCheckView(
                state,
                link.machine,
                link.of.siteName(),
                Math.min(3, link.answers.size() + 1),
                next,
                link.answers,
                1,
                receipt,
                link.endsAt);
    }

    private static Check check(QuestionText text) {
        List<Choice> choices = new ArrayList<>();
        text.answers()
                .forEach((code, words) ->
                        choices.add(new Choice(code, words, text.putsRight().contains(code))));
        choices.add(new Choice("cannot", "I can't do this, or can't tell", false));
        return new Check(text.id(), text.about(), text.ask(), choices);
    }

    @Override
    public synchronized Outcome look(String secret) {
        Link link = links.get(secret);
        if (link == null) {
            return new Outcome.NoSuchLink();
        }
        return hasEnded(link) ? new Outcome.Ended() : new Outcome.Shown(forSite(link));
    }

    private boolean hasEnded(Link link) {
        return link.revokedBy.isPresent() || !clock.instant().isBefore(link.endsAt);
    }

    @Override
    public synchronized Outcome weigh(String secret, String kilograms) {
        Outcome looked = look(secret);
        return looked instanceof Outcome.Shown
                ? EventKind.HARVEST_WEIGHED
                        .wrongDetail(kilograms)
                        .<Outcome>map(Outcome.NoWeight::new)
                        .orElse(looked)
                : looked;
    }

    @Override
    public synchronized Outcome answer(String secret, String check, String answer) {
        Link link = links.get(secret);
        if (link == null) {
            return new Outcome.NoSuchLink();
        }
        if (hasEnded(link)) {
            return new Outcome.Ended();
        }
        Optional<Check> asked = forSite(link).check().filter(each -> each.id().equals(check));
        Optional<Choice> choice = asked.flatMap(each -> answer.equals("still-no-ice")
                ? Optional.of(new Choice(answer, "there is still no ice", false))
                : each.choices().stream()
                        .filter(one -> one.answer().equals(answer))
                        .findFirst());
        if (choice.isEmpty()) {
            return new Outcome.Changed(forSite(link));
        }
        link.answers.add(new Answered(
                check, asked.get().about(), choice.get().words(), choice.get().putsRight(), clock.instant()));
        changes.publish("alert", link.of.site(), link.machine, "");
        return new Outcome.Shown(forSite(link));
    }
}
