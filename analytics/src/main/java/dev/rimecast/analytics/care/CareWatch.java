package dev.rimecast.analytics.care;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;

/**
 * Planned care of one machine: by days, by cycles, by litres, or because its cycles drift, whichever comes first. Days count
 * from the last time that it was recorded, else from the day that the register names, else from the first reading. Time is
 * that of the machine's readings. A finding's time is when it fell due, so that it does not depend on when that was looked
 * at.
 */
public final class CareWatch {
    private static final double DAY_MILLIS = 86_400_000;
    private static final long NONE = Long.MIN_VALUE;

    private final long[] doneAt = new long[CareTask.count()];
    private long firstSeen = NONE;
    private CareUse use = new CareUse();
    private Idleness idleness = new Idleness();

    public CareWatch() {
        Arrays.fill(doneAt, NONE);
    }

    /**
     * Time has come to a reading; enough if it is called once an hour.
     *
     * @param signs what the machine's own cycles say of it
     */
    public void passed(long millis, RuleContext context, CareSigns signs) {
        if (millis == NONE) {
            return;
        }
        firstSeen = firstSeen == NONE ? millis : firstSeen;
        for (CareTask task : CareTask.values()) {
            if (!context.isOpen(task.condition())) {
                use.look(task, task.isDrifting(signs), millis);
                judge(task, millis, context, signs);
            }
        }
    }

    private void judge(CareTask task, long millis, RuleContext context, CareSigns signs) {
        judgeDays(task, millis, context, signs);
        boolean wasDone = doneAt[task.ordinal()] != NONE;
        if (context.isOpen(task.condition()) || !task.isOf(context.machine(), wasDone)) {
            return;
        }
        DueBy.use(task, use, since(task, context.machine()), millis, context.policy())
                .ifPresent(due -> context.report(
                        task.condition(),
                        due.atMillis(),
                        Assessment.of(Stage.AT_LIMIT, Priority.LOW, task.due(due.why()), due.numbers())));
    }

    private void judgeDays(CareTask task, long millis, RuleContext context, CareSigns signs) {
        Machine machine = context.machine();
        boolean wasDone = doneAt[task.ordinal()] != NONE;
        double days = task.days(machine, context.policy());
        long due = since(task, machine) + Math.round(days * DAY_MILLIS);
        if (millis < due || !task.isOf(machine, wasDone)) {
            return;
        }
        long at = Math.max(due, firstSeen);
        if (task == CareTask.DESCALING) {
            // The cleaning that ended what was said before did not end this: it is said anew, from then on.
            at = Math.max(at, doneAt[CareTask.CLEANING.ordinal()]);
        }
        List<PolicyNumber> by = List.of(task.interval());
        if (task == CareTask.AIR_FILTER && signs.isCondenserClean()) {
            double stretched = days * context.policy().get(PolicyNumber.CLEAN_CONDENSER_FACTOR);
            if (millis < since(task, machine) + stretched * DAY_MILLIS) {
                return;
            }
            at = millis;
            by = List.of(task.interval(), PolicyNumber.CLEAN_CONDENSER_FACTOR);
        }
        double passed = Math.floor((at - since(task, machine)) / DAY_MILLIS);
        context.report(task.condition(), at, Assessment.of(Stage.AT_LIMIT, Priority.LOW, task.due(passed), by));
    }

    private long since(CareTask task, Machine machine) {
        long done = doneAt[task.ordinal()];
        if (done != NONE) {
            return done;
        }
        return task.begins(machine)
                .map(day -> day.atStartOfDay(ZoneOffset.UTC).toInstant().toEpochMilli())
                .orElse(firstSeen);
    }

    /** Something was done to the machine. */
    public void happened(EventKind kind, String detail, long millis, RuleContext context) {
        for (CareTask task : CareTask.values()) {
            if (task.isDoneBy(kind, detail)) {
                doneAt[task.ordinal()] = Math.max(doneAt[task.ordinal()], millis);
                context.clear(task.condition(), millis, task.over());
            }
        }
        if (kind == EventKind.EXCHANGED) {
            Arrays.fill(doneAt, millis);
        }
        use.happened(kind, detail);
        idleness.happened(kind, millis, context);
    }

    /** Readings of the machine have come up to here. */
    public void heard(long millis) {
        idleness.heard(millis);
    }

    /** A cycle is over. */
    public void cycle(RawCycle raw, RuleContext context) {
        use.cycle(raw);
        idleness.cycle(raw.freezeStartMillis(), raw.endMillis(), context);
    }

    public void save(StateWriter out) {
        for (long done : doneAt) {
            out.whole(done);
        }
        out.time(firstSeen);
        idleness.save(out);
        use.save(out);
    }

    /** @param hasUse whether the layout has what was counted; else it counts from now on */
    public static CareWatch restore(StateReader in, boolean hasUse) {
        CareWatch watch = new CareWatch();
        for (int i = 0; i < CareTask.countIn(in); i++) {
            watch.doneAt[i] = in.whole();
        }
        if (!CareTask.hasDescaling(in)) {
            // Before it was told apart, whoever cleaned was taken to have descaled.
            watch.doneAt[CareTask.DESCALING.ordinal()] = watch.doneAt[CareTask.CLEANING.ordinal()];
        }
        watch.firstSeen = in.time();
        watch.idleness = Idleness.restore(in);
        watch.use = hasUse ? CareUse.restore(in) : new CareUse();
        return watch;
    }
}
