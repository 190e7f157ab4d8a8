package dev.rimecast.alerts.register;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.alerts.policy.PolicyTrial;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.Outbox;
import dev.rimecast.alerts.store.PolicyLedger;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import org.jdbi.v3.core.Handle;

/**
 * Where people put policies into force, take them back, and have them tried. What a text means is not known here: whoever
 * calls has read it. Safe for many threads and processes: of two that change after the same change one is told.
 */
public final class PolicyDesk {
    private final Database database;
    private final InstantSource clock;
    private final Runnable wakePublisher;

    /** @param clock of the product, for when something came into force */
    public PolicyDesk(Database database, InstantSource clock, Runnable wakePublisher) {
        this.database = database;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
    }

    /** What came of a change. */
    public sealed interface Outcome {
        record Done(PolicyChange change) implements Outcome {}

        /** Somebody else changed it in the meantime. */
        record Changed(PolicyChange current) implements Outcome {}

        /** It says what is in force already. */
        record Same(PolicyChange current) implements Outcome {}

        /** There is no such change, or no such trial that runs. */
        record Unknown() implements Outcome {}
    }

    /** The newest first; the first is in force. */
    public List<PolicyChange> changes() {
        return database.jdbi().withHandle(PolicyLedger::all);
    }

    /** Empty before the first start with a policy. */
    public Optional<PolicyChange> current() {
        return database.jdbi().withHandle(PolicyLedger::newest);
    }

    public Optional<PolicyChange> change(int number) {
        return database.jdbi().withHandle(handle -> PolicyLedger.one(handle, number));
    }

    /** The newest first. */
    public List<PolicyTrial> trials() {
        return database.jdbi().withHandle(PolicyLedger::trials);
    }

    public Optional<PolicyTrial> trial(int id) {
        return database.jdbi().withHandle(handle -> PolicyLedger.trial(handle, id));
    }

    /**
     * Puts a policy into force on every site, from its record in each site's log on.
     *
     * @param expected number of the change that was looked at
     * @param text the policy's text when it has that name, which is one of its own
     * @param why never blank
     */
    public Outcome put(int expected, UnaryOperator<String> text, Person who, String why) {
        return change(expected, current -> {
            int number = current.number() + 1;
            String name = nameOf(number);
            return Optional.of(person(number, name, text.apply(name), who, why, Optional.empty(), Optional.empty()));
        });
    }

    /**
     * Takes up an earlier policy again, as the next change. Its name is the one it had.
     *
     * @param to number of that change
     */
    public Outcome rollBack(int expected, int to, Person who, String why) {
        return change(
                expected,
                current -> change(to)
                        .filter(wanted -> wanted.number() < current.number())
                        .map(wanted -> person(
                                current.number() + 1,
                                wanted.version(),
                                wanted.yaml(),
                                who,
                                why,
                                Optional.of(to),
                                Optional.empty())));
    }

    /**
     * Begins a trial.
     *
     * @param since records that arrived after this are decided by it
     * @return empty if another runs
     */
    public Optional<PolicyTrial> tryOut(String yaml, Instant since, Person who, String why) {
        return database.jdbi().inTransaction(handle -> {
            RegisterStore.lock(handle);
            boolean isBusy = PolicyLedger.trials(handle).stream().anyMatch(PolicyTrial::isRunning);
            return isBusy
                    ? Optional.empty()
                    : Optional.of(PolicyLedger.begin(
                            handle,
                            yaml,
                            PolicyLedger.newest(handle).orElseThrow().number(),
                            now(),
                            who.name(),
                            why,
                            since));
        });
    }

    /**
     * Puts a policy that is on trial into force, which ends the trial.
     *
     * @param text the policy's text when it has another name
     * @param result what has come of the trial so far
     */
    public Outcome promote(int trial, int expected, UnaryOperator<String> text, String result, Person who, String why) {
        return change(
                expected,
                current -> {
                    int number = current.number() + 1;
                    String name = nameOf(number);
                    return Optional.of(
                            person(number, name, text.apply(name), who, why, Optional.empty(), Optional.of(trial)));
                },
                handle -> PolicyLedger.end(
                        handle,
                        trial,
                        new PolicyTrial.Ended(now(), who.name(), why, PolicyTrial.Outcome.PROMOTED, result)));
    }

    /** Ends a trial without anything coming of it; false where it does not run. */
    public boolean drop(int trial, String result, Person who, String why) {
        return database.jdbi().inTransaction(handle -> {
            RegisterStore.lock(handle);
            return PolicyLedger.end(
                    handle, trial, new PolicyTrial.Ended(now(), who.name(), why, PolicyTrial.Outcome.DROPPED, result));
        });
    }

    private static String nameOf(int number) {
        return "firm-" + number;
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }

    private PolicyChange person(
            int number,
            String version,
            String yaml,
            Person who,
            String why,
            Optional<Integer> restores,
            Optional<Integer> trial) {
        return new PolicyChange(
                number, version, yaml, PolicyChange.Source.PERSON, now(), who.name(), why, restores, trial);
    }

    private Outcome change(int expected, Function<PolicyChange, Optional<PolicyChange>> next) {
        return change(expected, next, handle -> true);
    }

    /** @param first what must be done in the same transaction; where it can't, nothing is changed */
    private Outcome change(
            int expected, Function<PolicyChange, Optional<PolicyChange>> next, Function<Handle, Boolean> first) {
        Outcome outcome = database.jdbi().inTransaction(handle -> {
            RegisterStore.lock(handle);
            Optional<PolicyChange> current = PolicyLedger.newest(handle);
            if (current.isEmpty()) {
                return new Outcome.Unknown();
            }
            if (current.get().number() != expected) {
                return new Outcome.Changed(current.get());
            }
            Optional<PolicyChange> wanted = next.apply(current.get());
            if (wanted.isEmpty()) {
                return new Outcome.Unknown();
            }
            if (wanted.get().yaml().equals(current.get().yaml())) {
                return new Outcome.Same(current.get());
            }
            if (!first.apply(handle)) {
                return new Outcome.Unknown();
            }
            PolicyActivated record = Activation.of(handle, wanted.get());
            RegisterStore.sites(handle).forEach(site -> Outbox.toSite(handle, site.id(), record));
            return new Outcome.Done(wanted.get());
        });
        wakePublisher.run();
        return outcome;
    }
}
