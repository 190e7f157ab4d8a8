package dev.rimecast.alerts.register;

import dev.rimecast.alerts.silence.Closure;
import dev.rimecast.alerts.store.ClosureQuery;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Says of sites that are closed by their own word that they have opened again, where nobody does: what is closed is told to nobody.
 * It goes into the site's log like a word of the site, so that detection and alerts count again from the same moment.
 */
public final class ClosurePass {
    /** Who said so, in the site's log. */
    static final String BY = "Rimecast";

    private static final Logger LOG = LoggerFactory.getLogger(ClosurePass.class);
    private static final Duration BETWEEN_LOOKS = Duration.ofHours(1);

    private final Database database;
    private final SiteEvents events;
    private Optional<Instant> looked = Optional.empty();

    public ClosurePass(Database database, SiteEvents events) {
        this.database = database;
        this.events = events;
    }

    /** @return what the pages should look at again */
    public Collection<Change> run(Instant now) {
        if (looked.filter(at -> at.plus(BETWEEN_LOOKS).isAfter(now) && !at.isAfter(now))
                .isPresent()) {
            return List.of();
        }
        List<Change> changes = new ArrayList<>();
        for (Closure closure : database.jdbi().withHandle(handle -> ClosureQuery.standing(handle, now))) {
            over(closure, now).ifPresent(why -> {
                end(closure, why, now);
                changes.add(
                        new Change("alert", closure.site(), closure.machine().orElse(""), ""));
            });
        }
        looked = Optional.of(now);
        return changes;
    }

    private void end(Closure closure, String why, Instant now) {
        Instant at = now.truncatedTo(ChronoUnit.MILLIS);
        try {
            events.report(new Happened(at, closure.machine(), EventKind.CLOSED_TO, why, BY, ""), closure.site());
        } catch (IllegalArgumentException e) {
            LOG.info("{}: moved, or gone, while it was looked at ({})", closure.site(), e.getMessage());
        }
    }

    private Optional<String> over(Closure closure, Instant now) {
        return database.jdbi().withHandle(handle -> {
            Optional<Site> site = RegisterStore.site(handle, closure.site());
            ZoneId zone = site.map(Site::timeZone).orElse(ZoneOffset.UTC);
            return closure.over(zone, ClosureQuery.made(handle, closure, now), now);
        });
    }
}
