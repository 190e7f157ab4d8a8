package dev.rimecast.history.backtest;

import dev.rimecast.history.query.History;
import dev.rimecast.history.store.Snapshot;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How a partition stood at a snapshot, by the policies that were in force.
 *
 * @param next first offset that is not in it
 * @param isWhole whether the monitors had seen the log's beginning
 */
public record Standing(long next, boolean isWhole, List<Site> sites) {

    /**
     * One site.
     *
     * @param states parts of the monitor's state
     * @param standing all revisions of the alerts that stood
     */
    public record Site(String site, Map<String, byte[]> states, List<Finding> standing) {}

    public Standing {
        sites = List.copyOf(sites);
    }

    /** At the newest snapshot that has seen nothing which came in after that moment. */
    public static Optional<Standing> before(History history, Stretch stretch, Instant moment) {
        return Start.newest(history, stretch, snapshot -> !snapshot.arrived().isAfter(moment))
                .map(snapshot -> of(history, snapshot));
    }

    private static Standing of(History history, Snapshot snapshot) {
        return new Standing(
                snapshot.next(),
                snapshot.from() == 0,
                Start.read(history.directory(), snapshot, Start.LIVE).sites.values().stream()
                        .map(site -> new Site(site.site(), site.states(), site.standing()))
                        .toList());
    }
}
