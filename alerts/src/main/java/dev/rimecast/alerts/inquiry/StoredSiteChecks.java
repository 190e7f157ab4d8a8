package dev.rimecast.alerts.inquiry;

import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.AlertAnswers;
import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.SiteLinkStore;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.alerts.view.SiteCheckView.Choice;
import dev.rimecast.alerts.view.SiteChecks;
import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;

/** What sites see and answer by their links. */
public final class StoredSiteChecks implements SiteChecks {
    private static final String STILL_NO_ICE = Inquiry.STILL_NO_ICE;
    private static final String STILL_NO_ICE_WORDS = "there is still no ice";
    private static final String CALL = "no-ice";
    /** Nobody's name is known of who has the link. */
    private static final String SITE = "site";

    private final Database database;
    private final Views views;
    private final CaseStore cases;
    private final InstantSource clock;
    private final Runnable wakePublisher;
    private final Consumer<Collection<Changes.Change>> afterCommit;

    /** @param afterCommit told what changed, once it is committed */
    public StoredSiteChecks(
            Database database,
            Views views,
            BooksInForce books,
            InstantSource clock,
            Runnable wakePublisher,
            Consumer<Collection<Changes.Change>> afterCommit) {
        this.database = database;
        this.views = views;
        this.cases = new CaseStore(books);
        this.clock = clock;
        this.wakePublisher = wakePublisher;
        this.afterCommit = afterCommit;
    }

    @Override
    public Outcome look(String secret) {
        return database.jdbi().withHandle(handle -> {
            Optional<Row> link = SiteLinkStore.find(handle, Secret.hash(secret));
            if (link.isEmpty()) {
                return new Outcome.NoSuchLink();
            }
            return hasEnded(link.get())
                    ? new Outcome.Ended()
                    : new Outcome.Shown(standing(handle, link.get()).forSite());
        });
    }

    @Override
    public Outcome answer(String secret, String check, String answer) {
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Outcome outcome = database.jdbi().inTransaction(handle -> {
            Optional<Row> link = SiteLinkStore.locked(handle, Secret.hash(secret));
            if (link.isEmpty()) {
                return new Outcome.NoSuchLink();
            }
            return hasEnded(link.get()) ? new Outcome.Ended() : answer(handle, link.get(), check, answer, now);
        });
        if (outcome instanceof Outcome.Shown) {
            wakePublisher.run();
        }
        return outcome;
    }

    @Override
    public Outcome weigh(String secret, String kilograms) {
        Optional<String> wrong = EventKind.HARVEST_WEIGHED.wrongDetail(kilograms);
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Outcome outcome = database.jdbi().inTransaction(handle -> {
            Optional<Row> link = SiteLinkStore.locked(handle, Secret.hash(secret));
            if (link.isEmpty()) {
                return new Outcome.NoSuchLink();
            }
            if (hasEnded(link.get())) {
                return new Outcome.Ended();
            }
            if (wrong.isPresent()) {
                return new Outcome.NoWeight(wrong.get());
            }
            Row known = link.get();
            AlertAnswers.give(
                    handle,
                    known.site(),
                    happened(known, EventKind.HARVEST_WEIGHED, kilograms, now),
                    Optional.empty(),
                    "");
            handle.afterCommit(
                    () -> afterCommit.accept(List.of(new Changes.Change("alert", known.site(), known.machine(), ""))));
            return new Outcome.Shown(standing(handle, known).forSite());
        });
        if (outcome instanceof Outcome.Shown) {
            wakePublisher.run();
        }
        return outcome;
    }

    private Outcome answer(Handle handle, Row link, String check, String answer, Instant now) {
        LinkStanding standing = standing(handle, link);
        Optional<Check> asked = standing.answerable(check);
        Optional<Choice> choice = asked.flatMap(next -> choice(next, answer));
        if (asked.isEmpty() || choice.isEmpty()) {
            return new Outcome.Changed(standing.forSite());
        }
        Answered said = new Answered(
                check, asked.get().about(), choice.get().words(), choice.get().putsRight(), now);
        Happened event = happened(link, EventKind.SITE_ANSWER, check + ':' + inTheLog(check, answer), now);
        Optional<UUID> alert =
                standing.open().stream().map(open -> open.finding().id()).findFirst();
        AlertAnswers.give(handle, link.site(), event, alert, said.about() + ": " + said.words());
        SiteLinkStore.answered(handle, link, standing.answers().size() + 1, said, answer);
        if (answer.equals(STILL_NO_ICE) && link.calledAt().isEmpty()) {
            AlertAnswers.call(handle, cases, link.site(), happened(link, EventKind.CALL, CALL, now));
            SiteLinkStore.called(handle, link.id(), now);
        }
        handle.afterCommit(() -> afterCommit.accept(List.of(new Changes.Change(
                "alert", link.site(), link.machine(), alert.map(UUID::toString).orElse("")))));
        return new Outcome.Shown(standing(handle, link).forSite());
    }

    private static Optional<Choice> choice(Check check, String answer) {
        return answer.equals(STILL_NO_ICE)
                ? Optional.of(new Choice(STILL_NO_ICE, STILL_NO_ICE_WORDS, false))
                : check.choices().stream()
                        .filter(each -> each.answer().equals(answer))
                        .findFirst();
    }

    /** Not to be able to tell weighs nothing, but is not asked again by anybody. */
    private static String inTheLog(String check, String answer) {
        boolean isOfQuestion = QuestionTexts.STANDARD.of(check).isPresent();
        return isOfQuestion && answer.equals(NextCheck.CANNOT) ? Inquiry.CANNOT_TELL : answer;
    }

    private static Happened happened(Row link, EventKind kind, String detail, Instant at) {
        return new Happened(at, Optional.of(link.machine()), kind, detail, SITE, "");
    }

    private boolean hasEnded(Row link) {
        return link.revokedBy().isPresent() || !clock.instant().isBefore(link.endsAt());
    }

    private LinkStanding standing(Handle handle, Row link) {
        return LinkStanding.of(
                handle, link, caseOf(views, link.caseId()), AtRest.is(handle, views, link, clock.instant()));
    }

    /** The case that the alerts of this one are in by now. */
    static CaseView caseOf(Views views, UUID id) {
        CaseView view = views.caseOf(id).orElseThrow();
        return view.mergedInto().map(into -> caseOf(views, into)).orElse(view);
    }
}
