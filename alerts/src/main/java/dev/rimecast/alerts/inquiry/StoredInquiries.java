package dev.rimecast.alerts.inquiry;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.store.AlertAnswers;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.Inquiries;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.Views;
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

/** What people answer and ask, each in one transaction with its line in the audit and its record on the way to the log. */
public final class StoredInquiries implements Inquiries {
    private final Database database;
    private final Views views;
    private final InstantSource clock;
    private final Runnable wakePublisher;
    private final Consumer<Collection<Changes.Change>> afterCommit;

    /** @param afterCommit told what changed, once it is committed */
    public StoredInquiries(
            Database database,
            Views views,
            InstantSource clock,
            Runnable wakePublisher,
            Consumer<Collection<Changes.Change>> afterCommit) {
        this.database = database;
        this.views = views;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
        this.afterCommit = afterCommit;
    }

    @Override
    public Outcome answer(UUID alert, Person who, String question, String answer) {
        QuestionText text = QuestionTexts.STANDARD
                .of(question)
                .orElseThrow(() -> new IllegalArgumentException("there is no question '" + question + "'"));
        String words = text.answer(answer)
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

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
