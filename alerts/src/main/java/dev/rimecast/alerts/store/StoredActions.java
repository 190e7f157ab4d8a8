package dev.rimecast.alerts.store;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.life.AlertLife;
import dev.rimecast.alerts.life.EpisodeRules;
import dev.rimecast.alerts.life.EpisodeRules.Acknowledgement;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Changes.Change;
import java.time.InstantSource;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;

/** What people do, each in one transaction with its line in the audit. */
public final class StoredActions implements Actions {
    private final Database database;
    private final InstantSource clock;
    private final ViewAssembly assembly;
    private final Consumer<Collection<Change>> afterCommit;

    /** @param afterCommit told what changed, once it is committed */
    public StoredActions(
            Database database, InstantSource clock, AdviceBook advice, Consumer<Collection<Change>> afterCommit) {
        this.database = database;
        this.clock = clock;
        this.assembly = new ViewAssembly(advice);
        this.afterCommit = afterCommit;
    }

    @Override
    public Outcome acknowledge(UUID alert, long expectedVersion, String who, String why) {
        Outcome outcome =
                database.jdbi().inTransaction(handle -> acknowledge(handle, alert, expectedVersion, who, why));
        if (outcome instanceof Outcome.Done done) {
            afterCommit.accept(
                    List.of(new Change("alert", done.alert().finding().machine().orElse(""), alert.toString())));
        }
        return outcome;
    }

    private Outcome acknowledge(Handle handle, UUID alert, long expectedVersion, String who, String why) {
        Optional<StoredAlert> found = handle.createQuery(
                        "select " + StoredAlert.COLUMNS + " from alert a where a.id = :id for update")
                .bind("id", alert)
                .map((row, context) -> StoredAlert.of(row))
                .findOne();
        if (found.isEmpty()) {
            return new Outcome.NoSuchAlert();
        }
        if (found.get().version() != expectedVersion) {
            return new Outcome.Changed(view(handle, alert));
        }
        Acknowledgement result = EpisodeRules.acknowledge(found.get().life());
        if (result instanceof Acknowledgement.Refused refused) {
            return new Outcome.NotAllowed(view(handle, alert), refused.reason());
        }
        AlertLife after = ((Acknowledgement.Accepted) result).life();
        write(handle, alert, after, who);
        AuditTrail.append(handle, alert, clock.instant(), who, "acknowledged", why);
        return new Outcome.Done(view(handle, alert));
    }

    private void write(Handle handle, UUID alert, AlertLife after, String who) {
        Optional<AlertLife.Acknowledged> seen =
                after instanceof AlertLife.Acknowledged acknowledged ? Optional.of(acknowledged) : Optional.empty();
        handle.createUpdate("""
                update alert set state = :state, seen_stage = :seenStage, seen_priority = :seenPriority,
                    acknowledged_by = :who, acknowledged_at = :at, version = version + 1
                where id = :id""")
                .bind("id", alert)
                .bind("state", after.state().code())
                .bind("seenStage", seen.map(s -> s.seen().stage().code()))
                .bind("seenPriority", seen.map(s -> s.seen().priority().code()))
                .bind("who", who)
                .bind("at", clock.instant())
                .execute();
    }

    private AlertView view(Handle handle, UUID alert) {
        List<ViewAssembly.Named> row = handle.createQuery(ViewAssembly.SELECT + "where a.id = :id")
                .bind("id", alert)
                .map((result, context) -> new ViewAssembly.Named(StoredAlert.of(result), result.getString("site_name")))
                .list();
        return assembly.views(handle, row).get(0);
    }
}
