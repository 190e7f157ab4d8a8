package dev.rimecast.dashboard.bench;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A look at the fleet itself: whether machines' expectations still fit, sensors age, a model group is another kind.
 *
 * @param days back from the end of the history, for sensors
 * @param fitDays the same for expectations
 * @param problem why it failed
 */
public record Look(
        int id,
        String state,
        String by,
        Instant askedAt,
        int days,
        int fitDays,
        Optional<String> problem,
        Optional<Progress> progress,
        Optional<Found> found)
        implements Asked<Look> {

    @Override
    public Look in(String next, Optional<String> why, Optional<Progress> far) {
        return new Look(id, next, by, askedAt, days, fitDays, why, far, found);
    }

    public Look with(Found what) {
        return new Look(id, state, by, askedAt, days, fitDays, problem, progress, Optional.of(what));
    }

    /**
     * The newest that was asked for, without what was found, and the newest that was answered; often the same.
     *
     * <p>Those of before the last start are gone.
     */
    public record Looks(Optional<Look> newest, Optional<Look> answered) {
        public Looks {
            newest = newest.map(each -> new Look(
                    each.id(),
                    each.state(),
                    each.by(),
                    each.askedAt(),
                    each.days(),
                    each.fitDays(),
                    each.problem(),
                    each.progress(),
                    Optional.empty()));
        }
    }

    /**
     * What was found. Distances are in standard deviations of what is normal for a machine.
     *
     * @param from since when sensors are looked at
     * @param fitFrom since when expectations are looked at
     * @param until the newest cycle of the history
     * @param machines with complete cycles since {@code fitFrom}
     * @param judged of them, those with enough cycles for a word
     * @param off of those, whose expectation does not fit in some feature
     * @param unexplained of those, about which no alert stood
     * @param unfitCount of all, also those that are not listed; one machine may be off in several features
     * @param sensorCount the same of sensors
     */
    public record Found(
            Instant from,
            Instant fitFrom,
            Instant until,
            int machines,
            int judged,
            long off,
            long unexplained,
            List<Fit> fits,
            int unfitCount,
            List<Unfit> unfit,
            int sensorCount,
            List<Sensor> sensors,
            List<Group> groups,
            List<Part> parts) {
        public Found {
            fits = List.copyOf(fits);
            unfit = List.copyOf(unfit);
            sensors = List.copyOf(sensors);
            groups = List.copyOf(groups);
            parts = List.copyOf(parts);
        }
    }

    /**
     * A feature in the fleet, of machines about which no alert stood.
     *
     * @param withinTwo share of cycles within two standard deviations
     */
    public record Fit(String feature, int machines, long cycles, double withinTwo) {}

    /**
     * A machine that is steadily off in a feature, the furthest first.
     *
     * @param alerts conditions of alerts that stood meanwhile
     */
    public record Unfit(String machine, String site, String feature, double median, long cycles, List<String> alerts) {
        public Unfit {
            alerts = List.copyOf(alerts);
        }
    }

    /**
     * A sensor that has changed.
     *
     * @param change {@code silent}, {@code apart-from-room} or {@code probe-moves}
     * @param amount share of cycles that have lost it for {@code silent}, else K over the whole time
     * @param low lower end of its 90 % interval
     * @param high upper end
     */
    public record Sensor(
            String machine, String site, String channel, String change, double amount, double low, double high) {}

    /** A model group that stands apart from the others in a feature. */
    public record Group(String group, String feature, int machines, double median, double others) {}

    /** A part of the look: how many machines it is about, and what it left out. */
    public record Part(String part, int looked, List<LeftOut> leftOut) {
        public Part {
            leftOut = List.copyOf(leftOut);
        }
    }

    /**
     * Machines that were left out for a reason.
     *
     * @param machines some of them
     */
    public record LeftOut(String reason, int count, List<String> machines) {
        public LeftOut {
            machines = List.copyOf(machines);
        }
    }
}
