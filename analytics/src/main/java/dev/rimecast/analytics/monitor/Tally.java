package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/** The running counters behind {@link MonitorCounts}. */
final class Tally {
    private long used;
    private long repeated;
    private long late;
    private long conflicting;
    private long unregistered;

    void count(Admission admission) {
        switch (admission) {
            case USED -> used++;
            case REPEATED -> repeated++;
            case LATE -> late++;
            case CONFLICTING -> conflicting++;
            case UNREGISTERED -> unregistered++;
        }
    }

    void repeatedPack(int readings) {
        repeated += readings;
    }

    MonitorCounts counts() {
        return new MonitorCounts(used, repeated, late, conflicting, unregistered);
    }

    void save(StateWriter out) {
        out.whole(used).whole(repeated).whole(late).whole(conflicting).whole(unregistered);
    }

    static Tally restore(StateReader in) {
        Tally tally = new Tally();
        tally.used = in.whole();
        tally.repeated = in.whole();
        tally.late = in.whole();
        tally.conflicting = in.whole();
        tally.unregistered = in.whole();
        return tally;
    }
}
