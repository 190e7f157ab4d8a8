package dev.rimecast.alerts.register;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.store.ClaimStore;
import dev.rimecast.alerts.store.ClaimStore.Claimed;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;

/**
 * Claims in the database. A claim is a change of the register as an import is one: it goes the same way, in one transaction, into the
 * site's log and the compacted topic that ingest reads.
 */
public final class StoredClaims implements MachineClaims {
    private final Database database;
    private final InstantSource clock;
    private final Runnable wakePublisher;
    private final Consumer<Collection<Change>> changes;

    /**
     * @param wakePublisher called when something waits in the outbox
     * @param changes told after the commit
     */
    public StoredClaims(
            Database database, InstantSource clock, Runnable wakePublisher, Consumer<Collection<Change>> changes) {
        this.database = database;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
        this.changes = changes;
    }

    @Override
    public List<Claim> list() {
        return database.jdbi().inTransaction(handle -> {
            List<Claim> claims = new ArrayList<>();
            ClaimStore.all(handle)
                    .forEach((id, claimed) -> RegisterStore.machine(handle, id)
                            .ifPresent(machine -> claims.add(new Claim(machine, claimed.at(), claimed.by()))));
            return claims;
        });
    }

    @Override
    public List<String> modelGroups() {
        return database.jdbi().withHandle(RegisterStore::modelGroups);
    }

    @Override
    public Answer<Claim> claim(String by, Machine machine, boolean isNewSite) {
        return changed(handle -> {
            Optional<String> wrong = wrong(handle, machine, isNewSite);
            if (wrong.isPresent()) {
                return new Answer.Refused<>(wrong.get());
            }
            Instant at = now();
            Register before = RegisterImport.stored(handle);
            List<Machine> machines = Stream.concat(before.machines().stream(), Stream.of(machine))
                    .toList();
            RegisterImport.replace(handle, before, new Register(machines, before.sites()), false, at);
            ClaimStore.put(handle, machine, new Claimed(at, by));
            return new Answer.Done<>(new Claim(machine, at, by));
        });
    }

    private static Optional<String> wrong(Handle handle, Machine machine, boolean isNewSite) {
        Optional<Machine> known = RegisterStore.machine(handle, machine.id());
        if (known.isPresent()) {
            return Optional.of(machine.id() + " is in the register already, on site "
                    + known.get().site() + " behind gateway " + known.get().gateway()
                    + Optional.ofNullable(ClaimStore.all(handle).get(machine.id()))
                            .map(claim -> ": claimed by " + claim.by() + " at " + claim.at())
                            .orElse(", by machines.csv"));
        }
        Optional<String> stands = RegisterImport.stored(handle)
                .siteOfGateway(machine.gateway())
                .filter(site -> !site.equals(machine.site()));
        if (stands.isPresent()) {
            return Optional.of("gateway " + machine.gateway() + " stands on site " + stands.get() + " and not on "
                    + machine.site() + ": a gateway stands on exactly one site");
        }
        return isNewSite || RegisterStore.site(handle, machine.site()).isPresent()
                ? Optional.empty()
                : Optional.of("there is no site " + machine.site()
                        + " in the register: name one that is there, or say that it is a new one");
    }

    @Override
    public Answer<Machine> release(String by, String id) {
        return changed(handle -> {
            Map<String, Claimed> claims = ClaimStore.all(handle);
            Optional<Machine> machine = RegisterStore.machine(handle, id);
            if (machine.isEmpty()) {
                return new Answer.NotFound<>();
            }
            if (!claims.containsKey(id)) {
                return new Answer.Refused<>(
                        id + " is in machines.csv: take it out there, and start the server with the file");
            }
            Instant at = now();
            Register before = RegisterImport.stored(handle);
            List<Machine> machines = before.machines().stream()
                    .filter(each -> !each.id().equals(id))
                    .toList();
            RegisterImport.replace(handle, before, new Register(machines, sitesLeft(before, machine.get())), false, at);
            ClaimStore.release(handle, machine.get(), by, at);
            return new Answer.Done<>(machine.get());
        });
    }

    /** A site that only this claim began, and of which nobody has said anything, goes with it. */
    private static List<Site> sitesLeft(Register before, Machine released) {
        boolean isAlone = before.machines().stream()
                .noneMatch(each ->
                        each.site().equals(released.site()) && !each.id().equals(released.id()));
        return before.sites().stream()
                .filter(site -> !(isAlone && site.equals(Site.basic(released.site()))))
                .toList();
    }

    /** What one process does to the register, the next waits for. */
    private <T> Answer<T> changed(Function<Handle, Answer<T>> change) {
        Answer<T> answer = database.jdbi().inTransaction(handle -> {
            RegisterStore.lock(handle);
            return change.apply(handle);
        });
        if (answer instanceof Answer.Done) {
            wakePublisher.run();
            changes.accept(List.of(Change.EVERYTHING));
        }
        return answer;
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
