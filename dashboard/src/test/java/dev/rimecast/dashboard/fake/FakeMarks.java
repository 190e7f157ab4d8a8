package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.alerts.view.Mark.State;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Marks in memory; none at first. */
public final class FakeMarks implements Marks {
    private final InstantSource clock;
    private final List<Mark> marks = new ArrayList<>();

    FakeMarks(InstantSource clock) {
        this.clock = clock;
    }

    /** One that counts. */
    public UUID ofPast(String machine, String site) {
        Instant now = clock.instant();
        Mark.Said said = new Mark.Said(
                machine,
                site,
                Optional.empty(),
                now.minus(Duration.ofDays(2)),
                now.minus(Duration.ofDays(1)),
                Mark.Verdict.REAL,
                Optional.empty(),
                "");
        return add(SiteScope.EVERY, said, new Person("ana")).orElseThrow().id();
    }

    @Override
    public synchronized List<Mark> list(SiteScope sites, Optional<String> machine, int limit) {
        List<Mark> seen = new ArrayList<>(marks.stream()
                .filter(mark -> sites.includes(mark.said().site())
                        && machine.filter(each -> !each.equals(mark.said().machine()))
                                .isEmpty())
                .toList());
        Collections.reverse(seen);
        return seen.subList(0, Math.min(limit, seen.size()));
    }

    @Override
    public synchronized List<Mark> standing(SiteScope sites) {
        return marks.stream()
                .filter(mark -> mark.state() == State.STANDING
                        && sites.includes(mark.said().site()))
                .toList();
    }

    @Override
    public synchronized Optional<Mark> add(SiteScope sites, Mark.Said said, Person who) {
        if (!sites.includes(said.site())) {
            return Optional.empty();
        }
        marks.replaceAll(mark -> mark.state() == State.STANDING
                        && mark.who().equals(who.name())
                        && mark.said().machine().equals(said.machine())
                        && mark.said().from().equals(said.from())
                        && mark.said().to().equals(said.to())
                ? new Mark(mark.id(), mark.said(), mark.at(), mark.who(), State.SUPERSEDED, Optional.empty())
                : mark);
        marks.add(new Mark(UUID.randomUUID(), said, clock.instant(), who.name(), State.STANDING, Optional.empty()));
        return Optional.of(marks.get(marks.size() - 1));
    }

    @Override
    public synchronized boolean withdraw(SiteScope sites, UUID id, Person who) {
        Optional<Mark> found =
                standing(sites).stream().filter(mark -> mark.id().equals(id)).findFirst();
        found.ifPresent(mark -> marks.set(
                marks.indexOf(mark),
                new Mark(
                        mark.id(),
                        mark.said(),
                        mark.at(),
                        mark.who(),
                        State.WITHDRAWN,
                        Optional.of(new Mark.Withdrawn(clock.instant(), who.name())))));
        return found.isPresent();
    }
}
