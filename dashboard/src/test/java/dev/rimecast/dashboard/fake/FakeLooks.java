package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.dashboard.bench.Asked;
import dev.rimecast.dashboard.bench.Look;
import dev.rimecast.dashboard.bench.Progress;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/** Looks at the fleet of {@link FakeBench}: the first is answered at once, the next goes on until it is ended. */
final class FakeLooks {
    private final List<Look> looks = new ArrayList<>();

    Look.Looks all() {
        return new Look.Looks(
                looks.stream().findFirst(),
                looks.stream().filter(look -> look.found().isPresent()).findFirst());
    }

    /** A new one, or the one that is open. */
    Look ask(Instant now, int days, int fitDays, Person who) {
        if (looks.stream().noneMatch(Asked::isOpen)) {
            Look asked = new Look(
                    looks.size() + 1,
                    "waiting",
                    who.name(),
                    now,
                    days,
                    fitDays,
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty());
            looks.add(
                    0,
                    looks.isEmpty()
                            ? asked.with(FakeLook.found(now, days, fitDays))
                                    .in("done", Optional.empty(), Optional.empty())
                            : asked.in(
                                    "running",
                                    Optional.empty(),
                                    Optional.of(new Progress(12, 35, OptionalLong.of(40)))));
        }
        return looks.get(0);
    }

    /** Ends the one that is open; returns whether there was one. */
    boolean end(String state, Optional<String> why) {
        Optional<Look> open = looks.stream().filter(Asked::isOpen).findFirst();
        open.ifPresent(was -> looks.set(looks.indexOf(was), was.in(state, why, Optional.empty())));
        return open.isPresent();
    }
}
