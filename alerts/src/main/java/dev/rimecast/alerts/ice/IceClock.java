package dev.rimecast.alerts.ice;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The site's clock: goes on hour by hour with what its machines have, make and lose. What is in one bin serves all, since
 * people walk to the next machine; so the draw of a machine that has stopped falls on the others.
 *
 * <pre>
 *   stock(h+1) = min(bins, stock(h) + output(h) - draw(h))        out of ice at the first h with stock &lt; 0
 * </pre>
 *
 * <p>Uncertainty: three runs, with stock, draw and output each one standard deviation worse, as expected, and better. The
 * errors are taken as independent, so that all three at once lie at between 1 standard deviation of their sum (one of them
 * dominates) and 1.73 (all are alike): 4 to 16 of 100 outcomes are earlier than {@code early}, as many later than
 * {@code late}.
 *
 * <p>Cost: {@value #HORIZON_HOURS} steps per machine and run.
 */
public final class IceClock {
    public static final int HORIZON_HOURS = 7 * 24;
    private static final int SHORT_HOURS = 24;

    private IceClock() {}

    /** @param machines all machines of the site */
    public static IceOutlook run(Instant now, List<MachineIce> machines) {
        Run worse = go(now, machines, 1);
        if (worse.out().isEmpty()) {
            return new IceOutlook.Enough(now.plus(Duration.ofHours(HORIZON_HOURS)));
        }
        Run expected = go(now, machines, 0);
        Run better = go(now, machines, -1);
        double kg = expected.out().isPresent() ? expected.kgShort() : worse.kgShort();
        return new IceOutlook.Short(worse.out().get(), expected.out(), better.out(), kg);
    }

    /**
     * What is missing from now to a moment, in all, as expected, kg.
     *
     * @return empty for a moment beyond the horizon
     */
    public static OptionalDouble kgShort(Instant now, List<MachineIce> machines, Instant until) {
        if (until.isAfter(now.plus(Duration.ofHours(HORIZON_HOURS)))) {
            return OptionalDouble.empty();
        }
        double bins = machines.stream().mapToDouble(MachineIce::binKg).sum();
        double stock = machines.stream().mapToDouble(MachineIce::stockKg).sum();
        double kgShort = 0;
        for (Instant from = now; from.isBefore(until); from = from.plus(Duration.ofHours(1))) {
            Instant to = from.plus(Duration.ofHours(1)).isBefore(until) ? from.plus(Duration.ofHours(1)) : until;
            double next = stock + change(machines, from, to, 0);
            kgShort += Math.max(0, -next);
            stock = Math.min(bins, Math.max(0, next));
        }
        return OptionalDouble.of(kgShort);
    }

    /** When the site runs out for the first time, as expected; empty where it does not within the horizon. */
    public static Optional<Instant> runsOut(Instant now, List<MachineIce> machines) {
        return go(now, machines, 0).out();
    }

    /** What is made less what is taken, kg. */
    private static double change(List<MachineIce> machines, Instant from, Instant to, double adverse) {
        double hours = Duration.between(from, to).toMillis() / 3.6e6;
        double change = 0;
        for (MachineIce machine : machines) {
            DrawProfile draw = machine.draw();
            change += hours * machine.kgPerHour() * Math.max(0, 1 - adverse * machine.relativeError());
            change -= draw.kgBetween(from, to) * Math.max(0, 1 + adverse * draw.relativeError());
        }
        return change;
    }

    private record Run(Optional<Instant> out, double kgShort) {}

    /** @param adverse by how many standard deviations everything is worse than expected */
    private static Run go(Instant now, List<MachineIce> machines, double adverse) {
        double bins = machines.stream().mapToDouble(MachineIce::binKg).sum();
        double stock = machines.stream()
                .mapToDouble(m -> clamp(m.stockKg() - adverse * m.stockErrorKg(), m.binKg()))
                .sum();
        Optional<Instant> out = Optional.empty();
        double kgShort = 0;
        for (int hour = 0; hour < HORIZON_HOURS + SHORT_HOURS; hour++) {
            Instant from = now.plus(Duration.ofHours(hour));
            Instant nextHour = from.plus(Duration.ofHours(1));
            // what is missing is that of a day to the minute, not to the end of its last hour
            Instant to = out.map(at -> at.plus(Duration.ofHours(SHORT_HOURS)))
                    .filter(end -> end.isBefore(nextHour))
                    .orElse(nextHour);
            double change = change(machines, from, to, adverse);
            double next = stock + change;
            if (next < -1e-9) {
                if (out.isEmpty()) {
                    if (hour >= HORIZON_HOURS) {
                        break;
                    }
                    // within the hour, in proportion
                    out = Optional.of(from.plusMillis(Math.round(3.6e6 * stock / (stock - next))));
                }
                kgShort -= next;
                next = 0;
            }
            stock = Math.min(bins, next);
            if (out.isPresent() && !to.isBefore(out.get().plus(Duration.ofHours(SHORT_HOURS)))) {
                break;
            }
        }
        return new Run(out, kgShort);
    }

    private static double clamp(double kg, double bin) {
        return Math.max(0, Math.min(bin, kg));
    }
}
