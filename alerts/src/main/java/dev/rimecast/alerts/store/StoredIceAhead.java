package dev.rimecast.alerts.store;

import dev.rimecast.alerts.ice.IceClock;
import dev.rimecast.alerts.visits.IceAhead;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/** What a site will be short of, reckoned when somebody asks. */
public final class StoredIceAhead implements IceAhead {
    private final Database database;

    public StoredIceAhead(Database database) {
        this.database = database;
    }

    @Override
    public OptionalDouble kgShort(String site, Instant now, Instant until) {
        return database.jdbi()
                .withHandle(handle -> RegisterStore.site(handle, site)
                        .flatMap(known -> IceReckoner.machinesIce(handle, known, now))
                        .map(machines -> IceClock.kgShort(now, machines, until))
                        .orElse(OptionalDouble.empty()));
    }

    @Override
    public Optional<Instant> runsOut(String site, Instant now) {
        return database.jdbi()
                .withHandle(handle -> RegisterStore.site(handle, site)
                        .flatMap(known -> IceReckoner.machinesIce(handle, known, now))
                        .flatMap(machines -> IceClock.runsOut(now, machines)));
    }
}
