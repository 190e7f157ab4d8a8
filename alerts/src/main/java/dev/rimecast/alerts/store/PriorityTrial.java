package dev.rimecast.alerts.store;

import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.rules.Effect;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;

/** Asks another priority book about the alerts that are there; changes nothing. */
public final class PriorityTrial implements RuleDesk.Judgement {
    private final Database database;
    private final InstantSource clock;

    public PriorityTrial(Database database, InstantSource clock) {
        this.database = database;
        this.clock = clock;
    }

    @Override
    public Effect of(PriorityBook proposed) {
        Instant now = clock.instant();
        return database.jdbi().inTransaction(handle -> {
            List<ViewAssembly.Named> present = handle.createQuery(
                            ViewAssembly.SELECT + "where a.state in (" + PriorityPass.PRESENT + ") order by a.id")
                    .map((row, context) -> new ViewAssembly.Named(StoredAlert.of(row), row.getString("site_name")))
                    .list();
            List<ViewAssembly.Named> judged = present.stream()
                    .filter(row -> !row.alert().finding().condition().isCare())
                    .toList();
            return new Effect(
                    judged.size(),
                    judged.stream()
                            .flatMap(row -> change(handle, proposed, row, now))
                            .toList());
        });
    }

    private static Stream<Effect.Change> change(
            Handle handle, PriorityBook proposed, ViewAssembly.Named row, Instant now) {
        Finding finding = row.alert().finding();
        Prioritiser.Decided decided = Prioritiser.decide(handle, proposed, finding, now);
        if (decided.priority() == row.alert().priority()) {
            return Stream.empty();
        }
        String subject = finding.machine().or(finding::gateway).orElse("");
        return Optional.of(new Effect.Change(
                        finding.id(),
                        subject,
                        row.siteName(),
                        finding.condition(),
                        row.alert().priority(),
                        decided.priority(),
                        decided.why()))
                .stream();
    }
}
