package dev.rimecast.history.fleet;

import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.fleet.FleetReport.FeatureFit;
import dev.rimecast.history.fleet.FleetReport.Unfit;
import dev.rimecast.history.fleet.Scope.Reason;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Looks at a fleet through its history: the views {@code cycles}, {@code alerts} and {@code records}. The bounds are common
 * practice, not from a standard: they say what is worth a look, no more.
 */
public final class FleetLook {
    /** Off by so many standard deviations in the median of two weeks is steadily off, not noise. */
    static final double OFF = 1.5;
    /** Cycles from which a median says something. */
    static final int ENOUGH_CYCLES = 30;

    private final Duck duck;
    private final Duration span;
    private final Duration fit;
    private final Steps steps;
    private final Map<String, Machine> register = new HashMap<>();
    /** Those with at least one cycle that had an expectation. */
    private final Set<String> learned = new HashSet<>();

    private FleetLook(Duck duck, Duration span, Duration fit, Progress progress) {
        this.duck = duck;
        this.span = span;
        this.fit = fit;
        // newest, register, cycles, alerts and groups; two of each feature; sensors
        this.steps = new Steps(progress, 5 + 2 * Feature.values().length + SensorLook.STEPS);
    }

    /**
     * Looks.
     *
     * @param span how long back sensors are looked at
     * @param fit how long back expectations are looked at
     * @param progress told after each step; what it throws ends the look
     * @throws HistoryException if there is no complete cycle yet
     */
    public static FleetReport at(Duck duck, Duration span, Duration fit, Progress progress) {
        return new FleetLook(duck, span, fit, progress).look();
    }

    private FleetReport look() {
        Instant until = newest();
        steps.done();
        readRegister();
        steps.done();
        Known known = Known.read(duck, register, until, span, fit);
        steps.done();
        List<OfMachine> machines = medians(until.minus(fit));
        Map<String, List<String>> alerts = standing(until.minus(fit), until);
        steps.done();
        List<FeatureFit> fits = fits(until.minus(fit), machines, alerts.keySet());
        SensorLook sensors = new SensorLook(duck, register, until, span, steps);
        List<FleetReport.SensorChange> changes = sensors.changes();
        Set<String> judged = machines.stream().map(OfMachine::machine).collect(Collectors.toSet());
        Groups groups = Groups.of(machines, this::group);
        List<Scope> scopes = new ArrayList<>();
        scopes.add(Scope.of(
                Scope.Part.EXPECTATIONS,
                known.machines(),
                machine -> unjudged(known, machine, judged.contains(machine))));
        scopes.addAll(sensors.scopes(known));
        scopes.add(Scope.of(Scope.Part.GROUPS, known.machines(), groups::leftOut));
        steps.done();
        return new FleetReport(
                until.minus(span),
                until.minus(fit),
                until,
                (int) known.machines().stream()
                        .filter(machine -> known.of(machine).fit() > 0)
                        .count(),
                judged.size(),
                fits,
                unfit(machines, alerts),
                changes,
                groups.different(),
                scopes);
    }

    private List<Unfit> unfit(List<OfMachine> machines, Map<String, List<String>> alerts) {
        return machines.stream()
                .filter(each -> Math.abs(each.median()) >= OFF)
                .map(each -> new Unfit(
                        each.machine(),
                        site(each.machine()),
                        group(each.machine()),
                        each.feature(),
                        each.cycles(),
                        each.median(),
                        alerts.getOrDefault(each.machine(), List.of())))
                .sorted(Comparator.comparingDouble((Unfit each) -> -Math.abs(each.median()))
                        .thenComparing(Unfit::machine)
                        .thenComparing(Unfit::feature))
                .toList();
    }

    private Optional<Reason> unjudged(Known known, String machine, boolean isJudged) {
        if (isJudged) {
            return Optional.empty();
        }
        return known.idle(machine, known.of(machine).fit())
                .or(() -> Optional.of(learned.contains(machine) ? Reason.FEW_CYCLES : Reason.NOT_LEARNED));
    }

    /** The median of one machine in one feature, in standard deviations. */
    record OfMachine(String machine, Feature feature, long cycles, double median) {}

    private Instant newest() {
        List<Instant> newest = new ArrayList<>();
        duck.ask(
                "select max(freeze_start) from cycles where complete",
                row -> instant(row, 1).ifPresent(newest::add));
        return newest.stream()
                .findFirst()
                .orElseThrow(() -> new HistoryException(
                        "the history has no complete cycle yet: come back when it has some weeks"));
    }

    private void readRegister() {
        duck.ask("select record from records where kind = 'register' order by arrived_at, log_offset", row -> {
            byte[] bytes = row.getBytes(1);
            SiteRecord record = SiteLogCodec.decode(bytes);
            if (record instanceof SiteRecord.Registered registered) {
                register.put(registered.machine().id(), registered.machine());
            }
        });
    }

    private String site(String machine) {
        return Optional.ofNullable(register.get(machine)).map(Machine::site).orElse("");
    }

    private String group(String machine) {
        return Optional.ofNullable(register.get(machine))
                .flatMap(Machine::modelGroup)
                .orElse("");
    }

    private static String name(Feature feature) {
        return feature.name().toLowerCase(Locale.ROOT);
    }

    static String deviations(Feature feature) {
        String name = name(feature);
        return "(" + name + "_measured - " + name + "_expected) / nullif(" + name + "_sigma, 0)";
    }

    private List<OfMachine> medians(Instant since) {
        List<OfMachine> all = new ArrayList<>();
        for (Feature feature : Feature.values()) {
            String z = deviations(feature);
            duck.ask(
                    "select machine, count(" + z + "), approx_quantile(" + z
                            + ", 0.5) from cycles where complete and freeze_start >= " + time(since)
                            + " group by machine having count(" + z + ") > 0 order by machine",
                    row -> {
                        learned.add(row.getString(1));
                        if (row.getLong(2) >= ENOUGH_CYCLES) {
                            all.add(new OfMachine(row.getString(1), feature, row.getLong(2), row.getDouble(3)));
                        }
                    });
            steps.done();
        }
        return all;
    }

    /** Of the machines about which nobody was told: those that have a fault are off because of it. */
    private List<FeatureFit> fits(Instant since, List<OfMachine> machines, Set<String> withAlert) {
        List<FeatureFit> fits = new ArrayList<>();
        String others = withAlert.isEmpty()
                ? ""
                : withAlert.stream().map(Duck::literal).collect(Collectors.joining(", ", " and machine not in (", ")"));
        for (Feature feature : Feature.values()) {
            String z = deviations(feature);
            int judged = (int) machines.stream()
                    .filter(each -> each.feature() == feature && !withAlert.contains(each.machine()))
                    .count();
            duck.ask(
                    "select count(" + z + "), avg(case when abs(" + z + ") <= 2 then 1.0 else 0.0 end) filter (where "
                            + z + " is not null) from cycles where complete and freeze_start >= " + time(since)
                            + others,
                    row -> {
                        if (row.getLong(1) > 0) {
                            fits.add(new FeatureFit(feature, row.getLong(1), judged, row.getDouble(2)));
                        }
                    });
            steps.done();
        }
        return fits;
    }

    private Map<String, List<String>> standing(Instant from, Instant until) {
        Map<String, List<String>> standing = new HashMap<>();
        duck.ask(
                "select distinct machine, condition from alerts where machine is not null and machine <> '' and raised_at < "
                        + time(until) + " and (cleared_at is null or cleared_at >= " + time(from)
                        + ") and condition not like '%-due' order by all",
                row -> standing.computeIfAbsent(row.getString(1), ignored -> new ArrayList<>())
                        .add(row.getString(2)));
        return standing;
    }

    static Optional<Instant> instant(ResultSet row, int column) throws SQLException {
        @Nullable LocalDateTime time = row.getObject(column, LocalDateTime.class);
        return time == null ? Optional.empty() : Optional.of(time.toInstant(ZoneOffset.UTC));
    }

    static String time(Instant at) {
        return "timestamp '" + LocalDateTime.ofInstant(at, ZoneOffset.UTC) + '\'';
    }
}
