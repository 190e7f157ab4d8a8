package dev.rimecast.alerts.ice;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How much ice leaves a machine's bin in each hour of the local week, kg/h, people's draw and melt together.
 *
 * <p>Learned between two moments at which the bin was full: what was made in between has left, whoever took it or however
 * it melted. It is spread evenly over the time between; while the bin is full nothing leaves that is not made again at
 * once. Times in which the bin did not become full again teach nothing: the machine's output, not the need, was the limit.
 *
 * <p>An hour of the week that was never seen has the mean of the same hour of other days, else the mean of all.
 *
 * @param kgPerHour 168 values, Monday 0 h to Sunday 23 h, local time
 * @param relativeError one standard deviation of a week's total, as a share of it
 */
public record DrawProfile(ZoneId zone, List<Double> kgPerHour, double relativeError) {
    static final int HOURS = 7 * 24;
    /** Less than this teaches no week. */
    static final Duration LEAST = Duration.ofDays(5);
    /** Of a profile learned in fewer than {@value #WEEKS_FOR_SPREAD} weeks; common practice, no source. */
    static final double ERROR_UNTIL_LEARNED = 0.35;

    private static final int WEEKS_FOR_SPREAD = 3;
    private static final double LEAST_ERROR = 0.1;

    /** A stretch of time between two full bins, or of one full bin ({@code kg} 0), and what was made in it. */
    public record Stretch(Instant from, Instant to, double kg) {
        public Stretch {
            if (to.isBefore(from) || !(kg >= 0)) {
                throw new IllegalArgumentException(
                        "a stretch from " + from + " to " + to + " can't hold " + kg + " kg");
            }
        }
    }

    public DrawProfile {
        kgPerHour = List.copyOf(kgPerHour);
        if (kgPerHour.size() != HOURS) {
            throw new IllegalArgumentException("a week has " + HOURS + " hours, not " + kgPerHour.size());
        }
    }

    /** The same in every hour, for a site whose need is only known per day. */
    public static DrawProfile even(ZoneId zone, double kgPerDay, double relativeError) {
        Double[] hours = new Double[HOURS];
        Arrays.fill(hours, kgPerDay / 24);
        return new DrawProfile(zone, List.of(hours), relativeError);
    }

    /** Empty where the stretches are shorter than {@link #LEAST} together. */
    public static Optional<DrawProfile> learn(ZoneId zone, List<Stretch> stretches) {
        double[] kg = new double[HOURS];
        double[] hours = new double[HOURS];
        Map<Long, double[]> weeks = new HashMap<>();
        for (Stretch stretch : stretches) {
            double total = hoursBetween(stretch.from(), stretch.to());
            for (Instant at = stretch.from(); at.isBefore(stretch.to()); ) {
                Instant next = earlier(nextHour(at), stretch.to());
                double share = hoursBetween(at, next);
                int hour = hourOfWeek(at, zone);
                hours[hour] += share;
                kg[hour] += stretch.kg() * share / total;
                double[] week = weeks.computeIfAbsent(at.getEpochSecond() / (7 * 86_400), w -> new double[2]);
                week[0] += stretch.kg() * share / total;
                week[1] += share;
                at = next;
            }
        }
        double known = Arrays.stream(hours).sum();
        if (known < LEAST.toHours()) {
            return Optional.empty();
        }
        double mean = Arrays.stream(kg).sum() / known;
        Double[] rates = new Double[HOURS];
        for (int hour = 0; hour < HOURS; hour++) {
            rates[hour] = hours[hour] >= 1 ? kg[hour] / hours[hour] : ofOtherDays(hour, kg, hours, mean);
        }
        return Optional.of(new DrawProfile(zone, List.of(rates), spread(weeks)));
    }

    private static double ofOtherDays(int hour, double[] kg, double[] hours, double mean) {
        double sum = 0;
        double seen = 0;
        for (int same = hour % 24; same < HOURS; same += 24) {
            sum += kg[same];
            seen += hours[same];
        }
        return seen >= 1 ? sum / seen : mean;
    }

    private static double spread(Map<Long, double[]> weeks) {
        double[] rates = weeks.values().stream()
                .filter(week -> week[1] >= HOURS / 2.0)
                .mapToDouble(week -> week[0] / week[1])
                .toArray();
        if (rates.length < WEEKS_FOR_SPREAD) {
            return ERROR_UNTIL_LEARNED;
        }
        double mean = Arrays.stream(rates).average().orElse(0);
        double squares =
                Arrays.stream(rates).map(rate -> (rate - mean) * (rate - mean)).sum();
        double deviation = StrictMath.sqrt(squares / (rates.length - 1));
        return mean > 0 ? Math.max(LEAST_ERROR, deviation / mean) : LEAST_ERROR;
    }

    /** What leaves between two moments, kg. */
    public double kgBetween(Instant from, Instant to) {
        double kg = 0;
        for (Instant at = from; at.isBefore(to); ) {
            Instant next = earlier(nextHour(at), to);
            kg += kgPerHour.get(hourOfWeek(at, zone)) * hoursBetween(at, next);
            at = next;
        }
        return kg;
    }

    /**
     * Local hour of the week, 0 for Monday 0 h. On the day on which clocks are set back one hour comes twice, on the day
     * on which they are set forward one does not come.
     */
    static int hourOfWeek(Instant at, ZoneId zone) {
        ZonedDateTime local = at.atZone(zone);
        return (local.getDayOfWeek().getValue() - 1) * 24 + local.getHour();
    }

    /** Whole hours of UTC: finer than needed where a zone is half an hour off, and never wrong by more than that. */
    private static Instant nextHour(Instant at) {
        return at.truncatedTo(ChronoUnit.HOURS).plus(1, ChronoUnit.HOURS);
    }

    private static Instant earlier(Instant one, Instant other) {
        return one.isBefore(other) ? one : other;
    }

    static double hoursBetween(Instant from, Instant to) {
        return Duration.between(from, to).toMillis() / 3.6e6;
    }
}
