package dev.rimecast.analytics.finding;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;

/**
 * How often conditions of one machine have come back. A condition that is over as soon as a reading is well again comes and goes
 * where its cause stays: a condenser is at its limit on each hot afternoon. Such a finding ends the first time; from its
 * first return on it rests instead, and is over only when it has not come back for {@code delays.quiet_minutes}.
 */
final class Returns {
    /** What ends by itself at the moment: the others have hysteresis in hours, wait for people, or take the site's ice, of which each time is told. */
    private static final Set<Condition> MAY_REST = EnumSet.of(
            Condition.HIGH_CONDENSING_TEMPERATURE, Condition.SENSOR_IMPLAUSIBLE, Condition.INCOMPLETE_HARVEST);

    /** What may be over within hours if it came at once, but not each night: of these it is known for how often they have come. */
    private static final Set<Condition> MAY_PASS =
            EnumSet.of(Condition.RISING_CONDENSING_TEMPERATURE, Condition.LONG_FREEZE, Condition.SLOW_PULL_DOWN);

    private static final long NONE = Long.MIN_VALUE;

    private final Map<Condition, Past> past = new EnumMap<>(Condition.class);

    /** @param times how often it has come, each time close upon its last end */
    private record Past(int times, long firstMillis, long overMillis, long restsSinceMillis) {
        boolean isResting() {
            return restsSinceMillis != NONE;
        }

        Past rests(long sinceMillis) {
            return new Past(times, firstMillis, overMillis, sinceMillis);
        }
    }

    private static boolean isCounted(Condition condition) {
        return MAY_REST.contains(condition) || MAY_PASS.contains(condition);
    }

    /** It has come, or come back while it rested. */
    void came(Condition condition, long millis, GroupPolicy policy) {
        if (!isCounted(condition)) {
            return;
        }
        Past before = past.get(condition);
        long again = policy.millis(PolicyNumber.COMES_AGAIN_MINUTES);
        if (before != null && (before.isResting() || (again > 0 && millis - before.overMillis() <= again))) {
            past.put(condition, new Past(before.times() + 1, before.firstMillis(), NONE, NONE));
        } else if (again == 0 || MAY_PASS.contains(condition)) {
            // Nothing is counted that nobody asks for, and a first time only once it is over.
            past.remove(condition);
        } else {
            past.put(condition, new Past(1, millis, NONE, NONE));
        }
    }

    /** It would be over now; whether it rests instead. */
    boolean rests(Condition condition, long millis) {
        Past now = past.get(condition);
        if (MAY_PASS.contains(condition)) {
            past.put(condition, new Past(now == null ? 1 : now.times(), NONE, millis, NONE));
            return false;
        }
        if (now == null) {
            return false;
        }
        boolean rests = now.times() > 1;
        past.put(condition, rests ? now.rests(millis) : new Past(1, now.firstMillis(), millis, NONE));
        return rests;
    }

    boolean isResting(Condition condition) {
        Past now = past.get(condition);
        return now != null && now.isResting();
    }

    /** How often it has come, and since when; for a sentence. */
    int times(Condition condition) {
        Past now = past.get(condition);
        return now == null ? 1 : now.times();
    }

    long firstMillis(Condition condition) {
        Past now = past.get(condition);
        return now == null ? NONE : now.firstMillis();
    }

    /** Whether it rests and has not come back for long enough. */
    boolean isQuiet(Condition condition, long millis, GroupPolicy policy) {
        Past now = past.get(condition);
        return now != null
                && now.isResting()
                && millis - now.restsSinceMillis() >= policy.millis(PolicyNumber.QUIET_MINUTES);
    }

    /** A resting condition is over. What comes soon after has still come back. */
    void over(Condition condition) {
        Past now = past.get(condition);
        if (now != null && now.isResting()) {
            past.put(condition, new Past(now.times(), now.firstMillis(), now.restsSinceMillis(), NONE));
        }
    }

    /** What ended so long ago that nothing is its return any more need not be known. */
    void forgetOld(long millis, Function<Condition, GroupPolicy> policy) {
        if (!past.isEmpty()) {
            past.entrySet()
                    .removeIf(one -> !one.getValue().isResting()
                            && one.getValue().overMillis() != NONE
                            && millis - one.getValue().overMillis()
                                    > policy.apply(one.getKey()).millis(PolicyNumber.COMES_AGAIN_MINUTES));
        }
    }

    /** Somebody has worked on the machine: what comes from now on comes for the first time. */
    void forget() {
        past.clear();
    }

    void save(StateWriter out) {
        out.u8(past.size());
        past.forEach((condition, p) -> out.u8(condition.ordinal())
                .whole(p.times())
                .time(p.firstMillis())
                .time(p.overMillis())
                .time(p.restsSinceMillis()));
    }

    static Returns restore(StateReader in) {
        Returns returns = new Returns();
        for (int count = in.u8(); count > 0; count--) {
            Condition condition = Condition.values()[in.u8()];
            Past read = new Past(in.wholeInt(), in.time(), in.time(), in.time());
            // Of earlier versions, where stops rested, too.
            if (isCounted(condition)) {
                returns.past.put(condition, read);
            }
        }
        return returns;
    }
}
