package dev.rimecast.alerts.ice;

import dev.rimecast.alerts.ice.DrawProfile.Stretch;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a machine's bin and cycles say of the last weeks: from it come the size of a batch, what leaves the bin, and what
 * is in it.
 *
 * <p>A batch is the rated output per cycle of usual length: {@code rated × usual cycle / 24 h}. It is within
 * {@value #BATCH_ERROR} of the truth (one standard deviation; common practice, no source), and hardly changes with the
 * room, since the control ends the freeze by what is on the plate; what changes is how long it takes.
 *
 * @param fulls when the bin was full, oldest first; the last may still be
 * @param batches when ice came off, oldest first
 * @param cycles how long complete cycles took, oldest first
 */
public record BinRecord(
        double ratedKgPerDay, double binKg, List<Full> fulls, List<Instant> batches, List<Duration> cycles) {
    static final double BATCH_ERROR = 0.15;
    /** What is taken for a full bin holds this share less or more; common practice, no source. */
    static final double BIN_ERROR = 0.1;

    /** Of what a machine makes whose bin never fills, and so is taken; common practice, no source. */
    private static final double TAKEN_ERROR = 0.3;
    /** So long it must have made ice for that to be its habit. */
    private static final Duration SHORTEST_HABIT = Duration.ofDays(3);
    /** One standard deviation of what can be anything from nothing to one: 1/sqrt(12), of the uniform distribution. */
    private static final double UNIFORM_ERROR = 1 / StrictMath.sqrt(12);

    private static final Duration LONGEST_STRETCH = Duration.ofHours(48);
    private static final int RECENT = 10;

    /** @param to absent while it is full */
    public record Full(Instant from, Optional<Instant> to) {}

    public BinRecord {
        fulls = List.copyOf(fulls);
        batches = List.copyOf(batches);
        cycles = List.copyOf(cycles);
    }

    /**
     * The same with a bin that is full now taken for full until the machine was heard last: of one that has fallen silent
     * nobody knows that it is still, and what people take has left it since.
     */
    public BinRecord heardUntil(Instant last) {
        if (fulls.isEmpty() || fulls.get(fulls.size() - 1).to().isPresent()) {
            return this;
        }
        List<Full> ended = new ArrayList<>(fulls);
        Instant from = ended.remove(ended.size() - 1).from();
        ended.add(new Full(from, Optional.of(last.isBefore(from) ? from : last)));
        return new BinRecord(ratedKgPerDay, binKg, ended, batches, cycles);
    }

    /** kg in a batch; 0 where no cycle was seen. */
    double batchKg() {
        return ratedKgPerDay * median(cycles) / Duration.ofDays(1).toSeconds();
    }

    /** What it makes when it is called for, by its last cycles, kg/h. */
    double kgPerHour() {
        double recent = median(cycles.subList(Math.max(0, cycles.size() - RECENT), cycles.size()));
        return recent > 0 ? batchKg() * 3600 / recent : ratedKgPerDay / 24;
    }

    /** What leaves its bin, where enough was seen. */
    public Optional<DrawProfile> draw(ZoneId zone) {
        List<Stretch> stretches = new ArrayList<>();
        for (int i = 0; i < fulls.size(); i++) {
            Optional<Instant> to = fulls.get(i).to();
            if (to.isEmpty()) {
                break;
            }
            stretches.add(new Stretch(fulls.get(i).from(), to.get(), 0));
            if (i + 1 < fulls.size()) {
                Instant again = fulls.get(i + 1).from();
                if (again.isAfter(to.get()) && Duration.between(to.get(), again).compareTo(LONGEST_STRETCH) <= 0) {
                    stretches.add(new Stretch(to.get(), again, madeKg(to.get(), again)));
                }
            }
        }
        return cycles.isEmpty() ? Optional.empty() : DrawProfile.learn(zone, stretches);
    }

    private double madeKg(Instant from, Instant to) {
        return batchKg()
                * batches.stream()
                        .filter(at -> at.isAfter(from) && !at.isAfter(to))
                        .count();
    }

    /**
     * The machine as it is now.
     *
     * @param runs whether it makes ice
     * @return empty where it was never known to be full
     */
    public Optional<MachineIce> now(Instant now, DrawProfile draw, boolean runs) {
        if (fulls.isEmpty()) {
            return Optional.empty();
        }
        Instant since = fulls.get(fulls.size() - 1).to().orElse(now);
        double made = madeKg(since, now);
        double left = draw.kgBetween(since, now);
        double stock = Math.max(0, Math.min(binKg, binKg - left + made));
        double error = StrictMath.sqrt(
                square(BIN_ERROR * binKg) + square(BATCH_ERROR * made) + square(draw.relativeError() * left));
        return Optional.of(
                new MachineIce(binKg, stock, Math.min(error, binKg), runs ? kgPerHour() : 0, BATCH_ERROR, draw));
    }

    /**
     * What is taken from a bin that never fills, or never says so: all that it makes.
     *
     * @return empty where it has not made ice for days
     */
    public Optional<DrawProfile> drawOfAllMade(ZoneId zone) {
        if (batches.isEmpty() || batchKg() == 0) {
            return Optional.empty();
        }
        Duration made = Duration.between(batches.get(0), batches.get(batches.size() - 1));
        if (made.compareTo(SHORTEST_HABIT) < 0) {
            return Optional.empty();
        }
        double kgPerDay = batchKg() * (batches.size() - 1) * Duration.ofDays(1).toMillis() / made.toMillis();
        return Optional.of(DrawProfile.even(zone, kgPerDay, TAKEN_ERROR));
    }

    /**
     * The machine as it is now, though its bin was never known to be full: at its last batch anything from nothing to a
     * full bin was in it, and since then what is taken has left.
     *
     * @return empty where it never made ice
     */
    public Optional<MachineIce> halfKnown(Instant now, DrawProfile draw, boolean runs) {
        if (batches.isEmpty()) {
            return Optional.empty();
        }
        Instant last = batches.get(batches.size() - 1);
        double left = runs || !last.isBefore(now) ? 0 : draw.kgBetween(last, now);
        double stock = Math.max(0, binKg / 2 - left);
        return Optional.of(
                new MachineIce(binKg, stock, UNIFORM_ERROR * binKg, runs ? kgPerHour() : 0, BATCH_ERROR, draw));
    }

    private static double square(double value) {
        return value * value;
    }

    /** Seconds; 0 for none. */
    private static double median(List<Duration> lengths) {
        double[] sorted = lengths.stream()
                .mapToDouble(length -> length.toMillis() / 1000.0)
                .sorted()
                .toArray();
        int middle = sorted.length / 2;
        if (sorted.length == 0) {
            return 0;
        }
        return sorted.length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
