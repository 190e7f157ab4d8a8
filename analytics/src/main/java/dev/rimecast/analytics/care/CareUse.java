package dev.rimecast.analytics.care;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.log.EventKind;
import java.util.Arrays;

/**
 * What has gone through a machine since its care was done last: cycles, litres where there is a meter, and since when its own
 * cycles drift. A meter tells the litres of a cycle now and then; the last telling holds for the cycles after it.
 */
final class CareUse {
    private static final long NONE = Long.MIN_VALUE;

    private final int[] cycles = new int[CareTask.count()];
    private final float[] litres = new float[CareTask.count()];
    private final long[] driftsSince = new long[CareTask.count()];
    private float litresOfCycle;

    CareUse() {
        Arrays.fill(driftsSince, NONE);
    }

    void cycle(RawCycle raw) {
        raw.waterLitres().ifPresent(measured -> litresOfCycle = (float) measured);
        for (int i = 0; i < cycles.length; i++) {
            cycles[i]++;
            litres[i] += litresOfCycle;
        }
    }

    /** Looks once an hour whether the cycles drift in the way that this care cures. */
    void look(CareTask task, boolean isDrifting, long millis) {
        int i = task.ordinal();
        driftsSince[i] = !isDrifting ? NONE : driftsSince[i] == NONE ? millis : driftsSince[i];
    }

    void done(CareTask task) {
        cycles[task.ordinal()] = 0;
        litres[task.ordinal()] = 0;
        driftsSince[task.ordinal()] = NONE;
    }

    int cycles(CareTask task) {
        return cycles[task.ordinal()];
    }

    double litres(CareTask task) {
        return litres[task.ordinal()];
    }

    /** How long its cycles have drifted, ms; 0 where they don't. */
    long driftMillis(CareTask task, long now) {
        long since = driftsSince[task.ordinal()];
        return since == NONE ? 0 : now - since;
    }

    void happened(EventKind kind, String detail) {
        for (CareTask task : CareTask.values()) {
            if (task.isDoneBy(kind, detail) || kind == EventKind.EXCHANGED) {
                done(task);
            }
        }
    }

    void save(StateWriter out) {
        for (int i = 0; i < cycles.length; i++) {
            out.whole(cycles[i]).real32(litres[i]).time(driftsSince[i]);
        }
        out.real32(litresOfCycle);
    }

    static CareUse restore(StateReader in) {
        CareUse use = new CareUse();
        for (int i = 0; i < CareTask.countIn(in); i++) {
            use.cycles[i] = in.wholeInt();
            use.litres[i] = in.real32();
            use.driftsSince[i] = in.time();
        }
        if (!CareTask.hasDescaling(in)) {
            use.cycles[CareTask.DESCALING.ordinal()] = use.cycles[CareTask.CLEANING.ordinal()];
        }
        use.litresOfCycle = in.real32();
        return use;
    }
}
