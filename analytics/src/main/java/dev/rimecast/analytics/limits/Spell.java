package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/** For how long something has been so, or not been so, by the times of readings. */
public final class Spell {
    private static final long NONE = Long.MIN_VALUE;

    private boolean on;
    private long since = NONE;

    /** Takes what a reading says. */
    public void see(boolean isOn, long millis) {
        if (since == NONE || isOn != on) {
            on = isOn;
            since = millis;
        }
    }

    /** Whether it has been so for at least this long. */
    public boolean isOnFor(long millis, long now) {
        return on && since != NONE && now - since >= millis;
    }

    /** Whether it has not been so for at least this long. */
    public boolean isOffFor(long millis, long now) {
        return !on && since != NONE && now - since >= millis;
    }

    public long sinceMillis() {
        return since;
    }

    /** Begins anew, as if nothing had been seen. */
    public void forget() {
        on = false;
        since = NONE;
    }

    public void save(StateWriter out) {
        out.flag(on).whole(since);
    }

    public static Spell restore(StateReader in) {
        Spell spell = new Spell();
        spell.on = in.flag();
        spell.since = in.whole();
        return spell;
    }
}
