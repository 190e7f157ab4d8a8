package dev.rimecast.history.backtest;

import dev.rimecast.analytics.statistics.Normal;
import dev.rimecast.analytics.statistics.PoissonBound;
import dev.rimecast.analytics.statistics.WilsonInterval;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Predicate;

/**
 * Alerts held against what is known.
 *
 * <p>Conservation: alerts = right + wrong + without a label + contradicting + statements + care.
 *
 * @param problems each problem that is known, with the first alert that fits
 * @param right alerts about a problem
 * @param wrong alerts about a machine that was sound
 * @param unlabelled alerts of which nobody knows
 * @param contradicting alerts of which the same source says both
 * @param statements alerts about places, links and gateways, which are right wherever the record shows it
 * @param care reminders
 * @param soundYears machine-years that are known to have been sound
 * @param watchedYears machine-years in the record
 */
public record Judged(
        List<Problem> problems,
        List<AlertRow> right,
        List<AlertRow> wrong,
        List<AlertRow> unlabelled,
        List<AlertRow> contradicting,
        int statements,
        int care,
        double soundYears,
        double watchedYears) {
    private static final double CONFIDENCE = 0.9;
    /** From so many values on, the binomial is as good as normal, and its terms too small. */
    private static final int MOST_COUNTED = 1000;

    private static final Duration ONE_TRIP = Duration.ofDays(7);
    private static final Duration IN_TIME_TO_PLAN = Duration.ofDays(3);

    /**
     * One problem.
     *
     * @param machine empty for a call that names none
     * @param site of such a call
     * @param first the first alert that fits and stood before the deadline; empty: a miss
     */
    public record Problem(
            Optional<String> machine,
            Optional<String> site,
            Optional<Cause> cause,
            Instant from,
            Instant deadline,
            boolean isCall,
            Optional<AlertRow> first) {

        /** The machine, or the site where none is named. */
        public String subject() {
            return machine.or(() -> site).orElse("");
        }

        public boolean isFound() {
            return first.isPresent();
        }

        /** From the alert, or the problem's beginning where the alert stood already, to the deadline. */
        public Optional<Duration> lead() {
            return first.map(
                    alert -> Duration.between(alert.raisedAt().isBefore(from) ? from : alert.raisedAt(), deadline));
        }

        /** Whether there was time to plan a visit instead of sending somebody at once. */
        boolean isPlannable() {
            return lead().filter(lead -> lead.compareTo(IN_TIME_TO_PLAN) >= 0).isPresent();
        }

        /** Whether people on site can put it right themselves, so that nobody has to go. */
        boolean isOfSite() {
            return cause.filter(known -> known.origin() == Cause.Origin.SITE).isPresent();
        }

        /** The same problem whatever came of it. */
        String key() {
            return subject() + '|' + cause.map(Cause::code).orElse("") + '|' + deadline;
        }
    }

    public Judged {
        problems = List.copyOf(problems);
        right = List.copyOf(right);
        wrong = List.copyOf(wrong);
        unlabelled = List.copyOf(unlabelled);
        contradicting = List.copyOf(contradicting);
    }

    /** What was to be known, or was raised, before a moment. */
    public Judged before(Instant moment) {
        return part(at -> at.isBefore(moment));
    }

    /** What was to be known, or was raised, from a moment on. */
    public Judged since(Instant moment) {
        return part(at -> !at.isBefore(moment));
    }

    /** Without statements and care, which are counted over the whole time only; so is the time. */
    private Judged part(Predicate<Instant> time) {
        return new Judged(
                problems.stream()
                        .filter(problem -> time.test(problem.deadline()))
                        .toList(),
                of(right, time),
                of(wrong, time),
                of(unlabelled, time),
                of(contradicting, time),
                0,
                0,
                soundYears,
                watchedYears);
    }

    private static List<AlertRow> of(List<AlertRow> alerts, Predicate<Instant> time) {
        return alerts.stream().filter(alert -> time.test(alert.raisedAt())).toList();
    }

    /** What parts of a fleet come to together. */
    public static Judged sum(List<Judged> parts) {
        return new Judged(
                parts.stream().flatMap(each -> each.problems.stream()).toList(),
                parts.stream().flatMap(each -> each.right.stream()).toList(),
                parts.stream().flatMap(each -> each.wrong.stream()).toList(),
                parts.stream().flatMap(each -> each.unlabelled.stream()).toList(),
                parts.stream().flatMap(each -> each.contradicting.stream()).toList(),
                parts.stream().mapToInt(Judged::statements).sum(),
                parts.stream().mapToInt(Judged::care).sum(),
                parts.stream().mapToDouble(Judged::soundYears).sum(),
                parts.stream().mapToDouble(Judged::watchedYears).sum());
    }

    public int found() {
        return count(Problem::isFound);
    }

    private int count(Predicate<Problem> which) {
        return (int) problems.stream().filter(which).count();
    }

    /** Share of the problems that were found, Wilson 90 %; empty without problems. */
    public Optional<WilsonInterval> recall() {
        return problems.isEmpty() ? Optional.empty() : Optional.of(share(found(), problems.size()));
    }

    /** Share of the alerts that were right, of those that are known to be one or the other, Wilson 90 %. */
    public Optional<WilsonInterval> precision() {
        int known = right.size() + wrong.size();
        return known == 0 ? Optional.empty() : Optional.of(share(right.size(), known));
    }

    /** Hours from the alert to the deadline of those found: the given share have less. */
    public OptionalDouble leadHours(double share) {
        double[] hours = leads();
        if (hours.length == 0) {
            return OptionalDouble.empty();
        }
        // Between the two nearest values (Hyndman and Fan 1996, type 7).
        double at = share * (hours.length - 1);
        int below = (int) at;
        int above = Math.min(hours.length - 1, below + 1);
        return OptionalDouble.of(hours[below] + (at - below) * (hours[above] - hours[below]));
    }

    /**
     * Ends of the 90 % interval of the median of {@link #leadHours}, whatever their distribution: two of the values themselves, counted
     * from both ends (W. J. Conover, Practical Nonparametric Statistics, third edition, 1999, section 3.2). Empty for fewer than five: they are
     * no such interval.
     */
    public Optional<double[]> medianLeadInterval() {
        double[] hours = leads();
        int n = hours.length;
        double below = 0;
        int ends = 0;
        // the most values that can be left out at each end: binomial with a half, at most 5 % each
        double term = Math.scalb(1.0, -n);
        for (int k = 0; k < n && n < MOST_COUNTED; k++) {
            below += term;
            if (below > (1 - CONFIDENCE) / 2) {
                break;
            }
            ends = k + 1;
            term *= (double) (n - k) / (k + 1);
        }
        if (n >= MOST_COUNTED) {
            ends = (int) Math.floor(n / 2.0 - Normal.quantile(0.5 + CONFIDENCE / 2) * StrictMath.sqrt(n) / 2);
        }
        return ends == 0 ? Optional.empty() : Optional.of(new double[] {hours[ends - 1], hours[n - ends]});
    }

    /**
     * Median over every problem, one that was missed with none: so that missing what would have come late does not make it longer. Empty
     * without problems.
     */
    public OptionalDouble leadOfAllHours() {
        double[] hours = problems.stream()
                .mapToDouble(problem ->
                        problem.lead().map(lead -> lead.toMinutes() / 60.0).orElse(0.0))
                .sorted()
                .toArray();
        int n = hours.length;
        return n == 0 ? OptionalDouble.empty() : OptionalDouble.of((hours[(n - 1) / 2] + hours[n / 2]) / 2);
    }

    private double[] leads() {
        return problems.stream()
                .flatMap(problem -> problem.lead().stream())
                .mapToDouble(lead -> lead.toMinutes() / 60.0)
                .sorted()
                .toArray();
    }

    /** Wrong alerts a machine-year that is known to have been sound; empty where none is known. */
    public OptionalDouble falseRate() {
        return soundYears > 0 ? OptionalDouble.of(wrong.size() / soundYears) : OptionalDouble.empty();
    }

    /** Ends of its two-sided 90 % interval (Garwood). */
    public double[] falseRateInterval() {
        double[] ends = countInterval(wrong.size());
        return new double[] {ends[0] / soundYears, ends[1] / soundYears};
    }

    /** Ends of the two-sided 90 % interval of so many visits in such a time (Garwood). */
    public static double[] countInterval(int count) {
        double each = (1 - CONFIDENCE) / 2;
        return new double[] {PoissonBound.lower(count, 1 - each), PoissonBound.upper(count, 1 - each)};
    }

    /** Problems that the site could have put right after the alert, so that nobody had to go. */
    public int avoided() {
        return count(problem -> problem.isFound() && problem.isOfSite());
    }

    /** Other problems that were known three days before, so that a visit could be planned. */
    public int planned() {
        return count(problem -> problem.isPlannable() && !problem.isOfSite());
    }

    /** Trips on which nothing would have been found, by machine: wrong alerts of a machine within a week are one. */
    public Map<String, Integer> trips() {
        Map<String, Instant> begun = new HashMap<>();
        Map<String, Integer> trips = new TreeMap<>();
        for (AlertRow alert :
                wrong.stream().sorted(Comparator.comparing(AlertRow::raisedAt)).toList()) {
            String machine = alert.machine().orElse("");
            Instant last = begun.get(machine);
            if (last == null || alert.raisedAt().isAfter(last.plus(ONE_TRIP))) {
                begun.put(machine, alert.raisedAt());
                trips.merge(machine, 1, Integer::sum);
            }
        }
        return trips;
    }

    public int wasted() {
        return trips().values().stream().mapToInt(Integer::intValue).sum();
    }

    /** Alerts of machines, right, wrong, or of which nobody knows. */
    public int counted() {
        return right.size() + wrong.size() + unlabelled.size() + contradicting.size();
    }

    /** A share of so many, Wilson 90 %; {@code all} is not 0. */
    public static WilsonInterval share(int count, int all) {
        return WilsonInterval.of(count, all, CONFIDENCE);
    }

    /** By cause: how many there were, and how many were found. */
    public Map<Cause, int[]> byCause() {
        Map<Cause, int[]> counts = new EnumMap<>(Cause.class);
        for (Problem problem : problems) {
            if (problem.cause().isPresent()) {
                int[] count = counts.computeIfAbsent(problem.cause().get(), cause -> new int[2]);
                count[0]++;
                count[1] += problem.isFound() ? 1 : 0;
            }
        }
        return counts;
    }

    /** Every alert, to be held against what came in. */
    long alerts() {
        return Arrays.stream(
                        new int[] {right.size(), wrong.size(), unlabelled.size(), contradicting.size(), statements, care
                        })
                .sum();
    }
}
