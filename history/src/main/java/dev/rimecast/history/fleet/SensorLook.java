package dev.rimecast.history.fleet;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.statistics.Median;
import dev.rimecast.analytics.statistics.TheilSen;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.fleet.FleetReport.Change;
import dev.rimecast.history.fleet.FleetReport.SensorChange;
import dev.rimecast.history.fleet.Scope.Reason;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Which sensors have changed: what they say less often, and what moves that should not. */
final class SensorLook {
    /** What a sensor may wander before it is worth a look, K. Cheap ones are good to ±1 K. */
    static final double WANDER_KELVIN = 1;

    private static final double LOST_SHARE = 0.5;
    private static final int ENOUGH_DAYS = 14;
    private static final int LEAST_IN_A_ROOM = 3;
    private static final double CONFIDENCE = 0.90;
    /** Days that follow each other are alike: so much wider is the interval of a slope, in variance. Common practice. */
    private static final double ALIKE = 3;

    private static final double MILLIS_A_DAY = Duration.ofDays(1).toMillis();

    /** Sensors that say something, those of a room, three series of probes. */
    static final int STEPS = 8;
    /** What is held against the time before it. */
    static final Duration LAST = Duration.ofDays(7);

    private final Duck duck;
    private final Map<String, Machine> register;
    private final Instant until;
    private final Duration span;
    private final Steps steps;
    /** Days of each machine: with an air sensor of its own, of these with enough others in the room, and with a probe. */
    private final Map<String, Integer> airDays = new TreeMap<>();

    private final Map<String, Integer> roomDays = new TreeMap<>();
    private final Map<String, Integer> probeDays = new TreeMap<>();

    SensorLook(Duck duck, Map<String, Machine> register, Instant until, Duration span, Steps steps) {
        this.steps = steps;
        this.duck = duck;
        this.register = register;
        this.until = until;
        this.span = span;
    }

    private String site(String machine) {
        return Optional.ofNullable(register.get(machine)).map(Machine::site).orElse("");
    }

    List<SensorChange> changes() {
        return Stream.of(silent(), apart(), probes())
                .flatMap(List::stream)
                .sorted(Comparator.comparing(SensorChange::change)
                        .thenComparing(each -> -Math.abs(each.amount()))
                        .thenComparing(SensorChange::machine))
                .toList();
    }

    /** Channels that most cycles had before the last week, and half of those of the last week have not. */
    private List<SensorChange> silent() {
        Map<Channel, String> says = new TreeMap<>(Map.of(
                Channel.AMBIENT_TEMPERATURE,
                "ambient_source = " + Duck.literal(Conditions.SENSOR),
                Channel.WATER_TEMPERATURE,
                "water_source = " + Duck.literal(Conditions.SENSOR),
                Channel.CONDENSER_TEMPERATURE,
                "condensing_peak_c is not null",
                Channel.EVAPORATOR_TEMPERATURE,
                "evaporator_end_c is not null"));
        List<SensorChange> silent = new ArrayList<>();
        says.forEach((channel, said) -> {
            String share = "avg(case when " + said + " then 1.0 else 0.0 end) filter (where freeze_start ";
            String since = FleetLook.time(until.minus(LAST));
            duck.ask(
                    "select machine, before - now from (select machine, " + share + "< " + since + ") as before, "
                            + share + ">= " + since
                            + ") as now, count(*) filter (where freeze_start >= " + since
                            + ") as cycles from cycles where complete and freeze_start >= "
                            + FleetLook.time(until.minus(span)) + " group by machine) where cycles >= "
                            + FleetLook.ENOUGH_CYCLES
                            + " and before - now >= " + LOST_SHARE
                            + " order by machine",
                    row -> silent.add(new SensorChange(
                            row.getString(1),
                            site(row.getString(1)),
                            channel.code(),
                            Change.SILENT,
                            row.getDouble(2),
                            row.getDouble(2),
                            row.getDouble(2))));
            steps.done();
        });
        return silent;
    }

    /** Of which machines {@link #changes()} could say something. */
    List<Scope> scopes(Known known) {
        return List.of(
                Scope.of(
                        Scope.Part.SILENT,
                        known.machines(),
                        machine -> idle(known, machine)
                                .or(() -> unless(
                                        known.of(machine).lastWeek() >= FleetLook.ENOUGH_CYCLES, Reason.FEW_CYCLES))
                                .or(() -> unless(known.of(machine).before() > 0, Reason.NO_BEFORE))),
                Scope.of(
                        Scope.Part.APART_FROM_ROOM,
                        known.machines(),
                        machine -> idle(known, machine)
                                .or(() -> unless(known.isRegistered(machine), Reason.NOT_REGISTERED))
                                .or(() -> unless(airDays.containsKey(machine), Reason.NO_SENSOR))
                                .or(() -> unless(roomDays.containsKey(machine), Reason.ALONE))
                                .or(() -> unless(roomDays.getOrDefault(machine, 0) >= ENOUGH_DAYS, Reason.FEW_DAYS))),
                Scope.of(
                        Scope.Part.PROBE_MOVES,
                        known.machines(),
                        machine -> idle(known, machine)
                                .or(() -> unless(probeDays.containsKey(machine), Reason.NO_SENSOR))
                                .or(() -> unless(probeDays.getOrDefault(machine, 0) >= ENOUGH_DAYS, Reason.FEW_DAYS))));
    }

    private static Optional<Reason> idle(Known known, String machine) {
        return known.idle(machine, known.of(machine).span());
    }

    private static Optional<Reason> unless(boolean isSo, Reason reason) {
        return isSo ? Optional.empty() : Optional.of(reason);
    }

    /** What an air sensor says over the median of its room, day by day. */
    private List<SensorChange> apart() {
        Map<String, Map<Long, Map<String, Double>>> rooms = new TreeMap<>();
        daily("ambient_c", "ambient_source = " + Duck.literal(Conditions.SENSOR), (machine, day, value) -> {
            Machine row = register.get(machine);
            airDays.merge(machine, 1, Integer::sum);
            if (row != null) {
                rooms.computeIfAbsent(row.site() + '/' + row.room().orElse(""), ignored -> new TreeMap<>())
                        .computeIfAbsent(day, ignored -> new TreeMap<>())
                        .put(machine, value);
            }
        });
        Map<String, TreeMap<Long, Double>> differences = new TreeMap<>();
        rooms.values()
                .forEach(days -> days.forEach((day, said) -> {
                    // of two that move apart nobody can say which one it is
                    if (said.size() >= LEAST_IN_A_ROOM) {
                        double[] all = said.values().stream()
                                .mapToDouble(Double::doubleValue)
                                .toArray();
                        // with its own in it: then one that wanders does not carry the middle of the others along
                        double middle = Median.of(all, all.length);
                        said.forEach((machine, value) -> differences
                                .computeIfAbsent(machine, ignored -> new TreeMap<>())
                                .put(day, value - middle));
                    }
                }));
        differences.forEach((machine, days) -> roomDays.put(machine, days.size()));
        List<SensorChange> moved = moved(differences, Channel.AMBIENT_TEMPERATURE, Change.APART_FROM_ROOM);
        steps.done();
        return moved;
    }

    /** The coldest of a freeze against what it should be, where neither freeze nor pull-down moves with it. */
    private List<SensorChange> probes() {
        Map<String, TreeMap<Long, Double>> ends = series("evaporator_end_measured - evaporator_end_expected");
        ends.forEach((machine, days) -> probeDays.put(machine, days.size()));
        List<SensorChange> moved = moved(ends, Channel.EVAPORATOR_TEMPERATURE, Change.PROBE_MOVES);
        steps.done();
        Map<String, TreeMap<Long, Double>> freeze = ofMoved(moved, Feature.FREEZE);
        steps.done();
        Map<String, TreeMap<Long, Double>> pullDown = ofMoved(moved, Feature.PULL_DOWN);
        steps.done();
        return moved.stream()
                .filter(each -> still(freeze.get(each.machine())) && still(pullDown.get(each.machine())))
                .toList();
    }

    private Map<String, TreeMap<Long, Double>> ofMoved(List<SensorChange> moved, Feature feature) {
        return moved.isEmpty() ? Map.of() : series(FleetLook.deviations(feature));
    }

    private static boolean still(@Nullable TreeMap<Long, Double> days) {
        return days == null
                || days.size() < ENOUGH_DAYS
                || Math.abs(trend(days).slope() * length(days)) < FleetLook.OFF;
    }

    private List<SensorChange> moved(Map<String, TreeMap<Long, Double>> machines, Channel channel, Change change) {
        List<SensorChange> moved = new ArrayList<>();
        machines.forEach((machine, days) -> {
            if (days.size() >= ENOUGH_DAYS) {
                TheilSen trend = trend(days);
                double length = length(days);
                boolean isSure = trend.low() > 0 || trend.high() < 0;
                if (isSure && Math.abs(trend.slope() * length) >= WANDER_KELVIN) {
                    moved.add(new SensorChange(
                            machine,
                            site(machine),
                            channel.code(),
                            change,
                            trend.slope() * length,
                            trend.low() * length,
                            trend.high() * length));
                }
            }
        });
        return moved;
    }

    /** Days from the first to the last. */
    private static double length(TreeMap<Long, Double> days) {
        return days.lastKey() - days.firstKey();
    }

    private static TheilSen trend(TreeMap<Long, Double> days) {
        double[] x = days.keySet().stream().mapToDouble(Long::doubleValue).toArray();
        double[] y = days.values().stream().mapToDouble(Double::doubleValue).toArray();
        return TheilSen.of(x, y, x.length, CONFIDENCE, ALIKE);
    }

    private Map<String, TreeMap<Long, Double>> series(String value) {
        Map<String, TreeMap<Long, Double>> series = new TreeMap<>();
        daily(
                value,
                "true",
                (machine, day, median) -> series.computeIfAbsent(machine, ignored -> new TreeMap<>())
                        .put(day, median));
        return series;
    }

    private interface Daily {
        void take(String machine, long day, double median);
    }

    private void daily(String value, String where, Daily daily) {
        duck.ask(
                "select machine, date_trunc('day', freeze_start)::timestamp, approx_quantile(" + value
                        + ", 0.5) from cycles where complete and "
                        + where + " and " + value + " is not null and freeze_start >= "
                        + FleetLook.time(until.minus(span))
                        + " group by all having count(*) >= 5 order by all",
                row -> daily.take(
                        row.getString(1),
                        (long) (FleetLook.instant(row, 2).orElseThrow().toEpochMilli() / MILLIS_A_DAY),
                        row.getDouble(3)));
    }
}
