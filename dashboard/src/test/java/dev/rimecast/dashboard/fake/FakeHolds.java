package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** What keeps alerts of the fake fleet from counting. */
final class FakeHolds {
    private FakeHolds() {}

    static Hold shelf(AlertView alert, Person who, Action.Shelve shelve, Instant now) {
        return of(
                alert,
                Hold.Kind.SHELVED,
                who.name(),
                shelve.reason(),
                Optional.empty(),
                now,
                Optional.of(shelve.until()));
    }

    static Hold outOfService(AlertView alert, Person who, Action.TakeOutOfService taken, Instant now) {
        return of(
                alert,
                Hold.Kind.OUT_OF_SERVICE,
                who.name(),
                taken.reason(),
                Optional.of(taken.permittedBy()),
                now,
                Optional.empty());
    }

    static Hold outOfService(Machine machine, Person who, Action.TakeOutOfService taken, Instant now) {
        return new Hold(
                UUID.randomUUID(),
                Hold.Kind.OUT_OF_SERVICE,
                machine.id(),
                machine.site(),
                Optional.empty(),
                who.name(),
                taken.reason(),
                Optional.of(taken.permittedBy()),
                now,
                Optional.empty());
    }

    static Hold binFull(AlertView alert, Instant now) {
        return of(alert, Hold.Kind.SUPPRESSED, "bin-full", "the bin is full", Optional.empty(), now, Optional.empty());
    }

    static Hold paused(AlertView alert, Instant now) {
        return of(
                alert,
                Hold.Kind.SHELVED,
                "Noor",
                "The part comes on Thursday.",
                Optional.empty(),
                now.minus(Duration.ofHours(3)),
                Optional.of(now.plus(Duration.ofDays(3))));
    }

    private static Hold of(
            AlertView alert,
            Hold.Kind kind,
            String who,
            String why,
            Optional<String> permittedBy,
            Instant since,
            Optional<Instant> until) {
        return new Hold(
                UUID.randomUUID(),
                kind,
                alert.finding().machine().orElse(""),
                alert.finding().site(),
                Optional.of(alert.finding().condition().code()),
                who,
                why,
                permittedBy,
                since,
                until);
    }
}
