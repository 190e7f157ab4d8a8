package dev.rimecast.history.fleet;

import dev.rimecast.telemetry.cycle.Feature;
import java.time.Instant;
import java.util.List;

/**
 * How well detection knows a fleet. Distances are in standard deviations of what is normal for a machine: 0 is as expected.
 *
 * @param from since when sensors are looked at
 * @param fitFrom since when expectations are looked at
 * @param until the newest cycle of the history
 * @param machines with complete cycles since {@code fitFrom}
 * @param judged of them, those with enough cycles for a word
 * @param fits for each feature that was judged, of all machines without an alert
 * @param unfit machines whose expectation does not fit, the furthest first
 * @param sensors that have changed, the most first
 * @param groups model groups that are another kind in some feature
 * @param scopes of how many machines each part can say something, and of which not
 */
public record FleetReport(
        Instant from,
        Instant fitFrom,
        Instant until,
        int machines,
        int judged,
        List<FeatureFit> fits,
        List<Unfit> unfit,
        List<SensorChange> sensors,
        List<GroupDiffers> groups,
        List<Scope> scopes) {

    public FleetReport {
        fits = List.copyOf(fits);
        unfit = List.copyOf(unfit);
        sensors = List.copyOf(sensors);
        groups = List.copyOf(groups);
        scopes = List.copyOf(scopes);
    }

    /** How many machines are off in some feature. */
    public long off() {
        return unfit.stream().map(Unfit::machine).distinct().count();
    }

    /** How many of those nobody was told of: their expectation is wrong, or detection is blind there. */
    public long unexplained() {
        return unfit.stream()
                .filter(each -> each.alerts().isEmpty())
                .map(Unfit::machine)
                .distinct()
                .count();
    }

    /**
     * A feature in the fleet, as far as no alert stood.
     *
     * @param cycles that were judged
     * @param machines with enough of them
     * @param withinTwo share of cycles within two standard deviations; about 0.95 where the spread is right
     */
    public record FeatureFit(Feature feature, long cycles, int machines, double withinTwo) {}

    /**
     * A machine that is steadily off in a feature.
     *
     * @param median of its cycles
     * @param alerts conditions of alerts that stood meanwhile: then it is a fault rather than a wrong expectation
     */
    public record Unfit(
            String machine,
            String site,
            String modelGroup,
            Feature feature,
            long cycles,
            double median,
            List<String> alerts) {
        public Unfit {
            alerts = List.copyOf(alerts);
        }
    }

    /** What of a sensor has changed. */
    public enum Change {
        /** It says less often than before what it said. */
        SILENT,
        /** It moves away from those in the same room. */
        APART_FROM_ROOM,
        /** The coldest of a freeze moves, and nothing else of the cycle does. */
        PROBE_MOVES
    }

    /**
     * A sensor that has changed.
     *
     * @param channel code of the contract
     * @param amount share of cycles that have lost it (0 to 1) for {@link Change#SILENT}, else K over the whole time
     * @param low lower end of the 90 % interval of {@code amount}; the same where it is a share
     * @param high upper end of it
     */
    public record SensorChange(
            String machine, String site, String channel, Change change, double amount, double low, double high) {}

    /**
     * A model group whose machines together stand apart from the others' in a feature, each measured by its own expectation.
     *
     * @param machines of the group that were judged
     * @param median of their medians
     * @param others median of all others'
     */
    public record GroupDiffers(String modelGroup, Feature feature, int machines, double median, double others) {}
}
