package dev.rimecast.alerts.inquiry;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.notice.outbox.LinkMail;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.store.AlertAnswers;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.store.SiteLinkStore;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.Inquiries;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteLinkView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;

/** What people answer and ask, each in one transaction with its line in the audit and its record on the way to the log. */
public final class StoredInquiries implements Inquiries {
    private final Database database;
    private final Views views;
    private final Actions actions;
    private final Duration linkLasts;
    private final Optional<LinkMail> linkMail;
    private final InstantSource clock;
    private final Runnable wakePublisher;
    private final Consumer<Collection<Changes.Change>> afterCommit;

    private static final Duration SHOWN = Duration.ofDays(30);

    /**
     * @param linkLasts how long a link of a site works
     * @param linkMail sends it; absent where nobody is told anything
     * @param afterCommit told what changed, once it is committed
     */
    public StoredInquiries(
            Database database,
            Views views,
            Actions actions,
            Duration linkLasts,
            Optional<LinkMail> linkMail,
            InstantSource clock,
            Runnable wakePublisher,
            Consumer<Collection<Changes.Change>> afterCommit) {
        this.database = database;
        this.views = views;
        this.actions = actions;
        this.linkLasts = linkLasts;
        this.linkMail = linkMail;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
        this.afterCommit = afterCommit;
    }

    @Override
    public Outcome answer(UUID alert, Person who, String question, String answer) {
        QuestionText text = QuestionTexts.STANDARD
                .of(question)
                .orElseThrow(() -> new IllegalArgumentException("there is no question '" + question + "'"));
        String words = Optional.of(answer)
                .filter(code -> !code.equals(Inquiry.STILL_NO_ICE)) // it goes with a call, as the link has it
                .flatMap(text::answer)
                .orElseThrow(() -> new IllegalArgumentException("'" + answer + "' is no answer to " + question));
        Optional<AlertView> found = views.alert(alert);
        if (found.isEmpty()) {
            return new Outcome.NoSuchAlert();
        }
        AlertView view = found.get();
        if (view.clearedAt().isPresent() || view.finding().machine().isEmpty()) {
            return new Outcome.NotAllowed(view, "It is over, or about no machine: nobody is asked any more.");
        }
        Happened said = new Happened(
                now(), view.finding().machine(), EventKind.SITE_ANSWER, question + ':' + answer, who.name(), "");
        database.jdbi()
                .useTransaction(handle -> AlertAnswers.give(
                        handle, view.finding().site(), said, Optional.of(alert), text.about() + ": " + words));
        wakePublisher.run();
        afterCommit.accept(List.of(new Changes.Change(
                "alert", view.finding().site(), view.finding().machine().orElse(""), alert.toString())));
        return new Outcome.Done(views.alert(alert).orElse(view));
    }

    @Override
    public LinkOutcome ask(UUID caseId, Optional<String> machine, Person who) {
        return ask(caseId, machine, who, false);
    }

    @Override
    public LinkOutcome mail(UUID caseId, Optional<String> machine, Person who) {
        return ask(caseId, machine, who, true);
    }

    @Override
    public Map<String, String> mailContacts(SiteScope sites) {
        Map<String, String> contacts = new HashMap<>();
        linkMail.ifPresent(mail -> views.sites().stream()
                .filter(site -> sites.includes(site.id()))
                .forEach(site -> mail.addressOf(site).ifPresent(address -> contacts.put(site.id(), address))));
        return contacts;
    }

    private Optional<String> mailContact(String site) {
        return Optional.ofNullable(mailContacts(SiteScope.of(Set.of(site))).get(site));
    }

    private LinkOutcome ask(UUID caseId, Optional<String> machine, Person who, boolean byMail) {
        Optional<CaseView> found = views.caseOf(caseId);
        if (found.isEmpty()) {
            return new LinkOutcome.NoSuchCase();
        }
        CaseView of = StoredSiteChecks.caseOf(views, caseId);
        List<String> machines = of.alerts().stream()
                .filter(alert -> alert.clearedAt().isEmpty())
                .flatMap(alert -> alert.finding().machine().stream())
                .distinct()
                .toList();
        Optional<String> about =
                machine.or(() -> machines.size() == 1 ? machines.stream().findFirst() : Optional.empty());
        if (of.closedAt().isPresent() || about.filter(machines::contains).isEmpty()) {
            return new LinkOutcome.NotAllowed(
                    machines.isEmpty()
                            ? "Nothing of a machine is open in this case: there is nothing to ask."
                            : "Say which machine it is about: " + String.join(", ", machines) + '.');
        }
        Optional<String> address = byMail ? mailContact(of.site()) : Optional.empty();
        if (byMail && address.isEmpty()) {
            return new LinkOutcome.NotAllowed(
                    "There is no mail to this site: its contact in sites.csv has no address, or notices.yaml no"
                            + " server.");
        }
        see(of, about.get(), who);
        Instant now = now();
        Row link = new Row(
                UUID.randomUUID(),
                of.id(),
                of.site(),
                about.get(),
                who.name(),
                now,
                now.plus(linkLasts),
                Optional.empty(),
                Optional.empty(),
                address);
        Optional<String> secret = byMail ? Optional.empty() : Optional.of(Secret.make());
        database.jdbi().useTransaction(handle -> {
            SiteLinkStore.add(handle, link);
            secret.ifPresent(text -> SiteLinkStore.addSecret(handle, link.id(), Secret.hash(text), now));
            address.ifPresent(to -> linkMail.orElseThrow().plan(handle, link, siteOf(handle, link), to));
        });
        tell(link);
        return secret.<LinkOutcome>map(text -> new LinkOutcome.Made(text, view(link)))
                .orElseGet(() -> new LinkOutcome.Mailed(view(link)));
    }

    private static Site siteOf(Handle handle, Row link) {
        return RegisterStore.site(handle, link.site()).orElseGet(() -> Site.basic(link.site()));
    }

    /** Whoever asks the site has seen the alert. */
    private void see(CaseView of, String machine, Person who) {
        of.alerts().stream()
                .filter(alert ->
                        alert.finding().machine().filter(machine::equals).isPresent())
                .filter(alert -> alert.state() == AlertState.UNACKNOWLEDGED)
                .forEach(alert ->
                        actions.acknowledge(alert.finding().id(), alert.version(), who.name(), "asks the site"));
    }

    @Override
    public List<SiteLinkView> links(SiteScope sites) {
        List<Row> rows = database.jdbi().withHandle(handle -> SiteLinkStore.since(handle, sites, now().minus(SHOWN)));
        return rows.stream().map(this::view).toList();
    }

    private SiteLinkView view(Row link) {
        CaseView of = StoredSiteChecks.caseOf(views, link.caseId());
        return database.jdbi()
                .withHandle(handle -> LinkStanding.of(handle, link, of, false).forWhoAsked(clock.instant()));
    }

    @Override
    public boolean revoke(UUID id, Person who) {
        Optional<Row> link = database.jdbi()
                .inTransaction(handle -> SiteLinkStore.find(handle, id)
                        .filter(row -> SiteLinkStore.revoke(handle, row, who.name(), now())));
        link.ifPresent(this::tell);
        return link.isPresent();
    }

    private void tell(Row link) {
        afterCommit.accept(List.of(new Changes.Change("alert", link.site(), link.machine(), "")));
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
