package dev.rimecast.history.effect;

import dev.rimecast.analytics.limits.ControllerLimits;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.telemetry.machine.Machine;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;

/**
 * Cycles of the last months that reached a limit: counted from what each cycle is stored with, so at once. An alert takes more than one
 * such cycle, or longer: what delays ask is not in here.
 */
public record LimitCount(String path, Beyond current, Beyond candidate) {

    /** How many, and of how many machines. */
    public record Beyond(long cycles, long machines) {}

    private record Stored(String column, ToDoubleFunction<ControllerLimits> limit) {}

    private static final Map<String, Stored> COUNTED = Map.of(
            "limits.condensing_celsius", new Stored("condensing_peak_c", ControllerLimits::condensingCelsius),
            "limits.pull_down_seconds", new Stored("pull_down_s", ControllerLimits::pullDownSeconds),
            "limits.drain_level_seconds", new Stored("drain_level_max_s", ControllerLimits::drainLevelSeconds));

    /** Whether a number is a limit that can be counted. */
    public static boolean isCounted(String path) {
        return COUNTED.containsKey(path);
    }

    /**
     * Counts.
     *
     * @param path one that {@link #isCounted}
     * @param machines each by its own limit: its row's, else its group's
     */
    public static LimitCount of(
            History past, String path, List<Machine> machines, Policy current, Policy candidate, Window window) {
        Stored stored = COUNTED.getOrDefault(path, new Stored("", limits -> 0));
        if (stored.column().isEmpty()) {
            throw new IllegalArgumentException(path + " can't be counted from cycles");
        }
        long[] counts = new long[4];
        if (!machines.isEmpty()) {
            String rows = machines.stream()
                    .map(machine -> String.format(
                            Locale.ROOT,
                            "(%s, %s, %s)",
                            Duck.literal(machine.id()),
                            limit(stored, machine, current),
                            limit(stored, machine, candidate)))
                    .collect(Collectors.joining(", "));
            String beyond = stored.column() + " >= ";
            past.duck()
                    .ask(
                            "with limits(machine, now_limit, other_limit) as (values " + rows + ") select"
                                    + " count(*) filter (where " + beyond + "now_limit),"
                                    + " count(distinct machine) filter (where " + beyond + "now_limit),"
                                    + " count(*) filter (where " + beyond + "other_limit),"
                                    + " count(distinct machine) filter (where " + beyond + "other_limit)"
                                    + " from cycles join limits using (machine) where freeze_start >= timestamp '"
                                    + window.from().atOffset(ZoneOffset.UTC).toLocalDateTime()
                                    + "' and freeze_start < timestamp '"
                                    + window.to().atOffset(ZoneOffset.UTC).toLocalDateTime() + "'",
                            row -> {
                                for (int i = 0; i < counts.length; i++) {
                                    counts[i] = row.getLong(i + 1);
                                }
                            });
        }
        return new LimitCount(path, new Beyond(counts[0], counts[1]), new Beyond(counts[2], counts[3]));
    }

    private static double limit(Stored stored, Machine machine, Policy policy) {
        return stored.limit().applyAsDouble(ControllerLimits.of(machine, policy.forGroup(machine.modelGroup())));
    }
}
