package dev.rimecast.simulator.physics;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.Optional;

/**
 * The machine's own controller: which phase, when the next, and when to stop. It sees its probes and nothing else.
 * Ends found by a probe are placed within the step, so durations are finer than the step.
 */
final class Controller {
    private static final double REDUCED_FREEZE_SECONDS = 1320;
    private static final double REDUCED_HARVEST_SECONDS = 210;
    private static final int CLEANING_SECONDS = 2700;
    private static final double COLD_HARVEST_CELSIUS = 4;
    private static final int COLD_HARVESTS = 3;

    private final Control control;
    private final MachineEvents events;
    private final Retries retries = new Retries();
    private Phase phase = Phase.OFF;
    private Phase said = Phase.OFF;
    private long since;
    private long cutOutAt = -1;
    private boolean pulledDown;
    private int coldHarvests;
    private boolean cyclesBegun;
    private Optional<StopReason> stop = Optional.empty();

    Controller(Control control, MachineEvents events) {
        this.control = control;
        this.events = events;
    }

    /** What the controller sees at a step's end. */
    record Seen(
            long startMillis,
            long millis,
            Probe evaporator,
            double condenserCelsius,
            boolean evaporatorOpen,
            double sumpUsedKg,
            double iceMillimetres,
            boolean binFull,
            double drainSignalSeconds,
            boolean power,
            boolean cleaning,
            double startDelaySeconds) {

        long at(double level) {
            return startMillis + StrictMath.round((millis - startMillis) * evaporator.shareAt(level));
        }
    }

    Phase phase() {
        return phase;
    }

    Optional<StopReason> stopReason() {
        return stop;
    }

    boolean isLockedOut() {
        return phase == Phase.STOPPED && retries.exhausted();
    }

    /** Seconds since the phase began. */
    double elapsedSeconds(long millis) {
        return (millis - since) / 1000.0;
    }

    /** Whether a freeze has begun since this was last asked. */
    boolean takeCycleBegun() {
        boolean begun = cyclesBegun;
        cyclesBegun = false;
        return begun;
    }

    /** Somebody switched the machine off and on again. */
    void reset(long millis) {
        retries.clear();
        coldHarvests = 0;
        if (phase != Phase.OFF && phase != Phase.CLEAN) {
            enter(Phase.WAIT, millis, false);
        }
    }

    void startCleaning(long millis) {
        enter(Phase.CLEAN, millis, false);
    }

    void step(Seen seen) {
        long now = seen.millis();
        if (!seen.power()) {
            if (phase != Phase.OFF) {
                enter(Phase.OFF, now, false);
            }
            return;
        }
        if (seen.cleaning() && phase != Phase.CLEAN) {
            enter(Phase.CLEAN, now, false);
        }
        if (seen.drainSignalSeconds() > control.drainLimitSeconds() && phase != Phase.STOPPED && phase != Phase.CLEAN) {
            stop(StopReason.DRAIN, now);
        }
        double elapsed = elapsedSeconds(now);
        switch (phase) {
            case OFF -> enter(Phase.WAIT, now, false);
            case WAIT -> {
                if (elapsed >= Math.max(0, seen.startDelaySeconds() - Control.FIRST_FILL_SECONDS)) {
                    enter(Phase.FILL, now, false);
                }
            }
            case FILL -> {
                if (elapsed >= Math.min(Control.FIRST_FILL_SECONDS, control.startDelaySeconds())) {
                    events.duration(now, Channel.FILL_TIME, elapsed);
                    next(seen, now);
                }
            }
            case FREEZE -> freeze(seen, elapsed);
            case HARVEST -> harvest(seen, elapsed);
            case IDLE -> {
                if (!seen.binFull() && elapsed >= 180) {
                    next(seen, now);
                }
            }
            case CLEAN -> {
                if (!seen.cleaning() && elapsed >= CLEANING_SECONDS) {
                    enter(Phase.FILL, now, false);
                }
            }
            case STOPPED -> stopped(seen, elapsed);
            case REDUCED -> throw new IllegalStateException("reduced is a way of saying, not a phase");
        }
    }

    private void next(Seen seen, long at) {
        boolean rests = seen.binFull();
        enter(rests ? Phase.IDLE : Phase.FREEZE, at, seen.evaporatorOpen());
    }

    private void freeze(Seen seen, double elapsed) {
        double probe = seen.evaporator().celsius();
        if (!pulledDown && !seen.evaporatorOpen()) {
            if (probe <= 0) {
                pulledDown = true;
                events.duration(seen.at(0), Channel.PULL_DOWN_TIME, elapsedSeconds(seen.at(0)));
            } else if (elapsed >= control.pullDownLimitSeconds()) {
                stop(StopReason.PULL_DOWN, seen.millis());
                return;
            }
        }
        if (seen.condenserCelsius() >= control.condensingLimitCelsius()) {
            stop(StopReason.CONDENSING, seen.millis());
            return;
        }
        Optional<Long> end = freezeEnd(seen, elapsed);
        if (end.isPresent()) {
            events.duration(end.get(), Channel.FREEZE_TIME, elapsedSeconds(end.get()));
            enter(Phase.HARVEST, end.get(), seen.evaporatorOpen());
        }
    }

    private Optional<Long> freezeEnd(Seen seen, double elapsed) {
        if (seen.evaporatorOpen()) {
            return after(REDUCED_FREEZE_SECONDS, elapsed);
        }
        Optional<Long> regular = Optional.empty();
        if (control.freezeEnd() instanceof FreezeEnd.Temperature t) {
            regular = temperatureAndTimer(t, seen);
        } else if (control.freezeEnd() instanceof FreezeEnd.Level l) {
            regular = elapsed >= 300 && seen.sumpUsedKg() >= l.usedKg() ? Optional.of(seen.millis()) : regular;
        } else if (control.freezeEnd() instanceof FreezeEnd.Thickness t) {
            regular = seen.iceMillimetres() >= t.millimetres() ? Optional.of(seen.millis()) : regular;
        } else if (control.freezeEnd() instanceof FreezeEnd.Time t) {
            regular = after(t.seconds(), elapsed);
        }
        return regular.isPresent() ? regular : after(FreezeEnd.LONGEST_SECONDS, elapsed);
    }

    private Optional<Long> temperatureAndTimer(FreezeEnd.Temperature end, Seen seen) {
        if (cutOutAt < 0 && seen.evaporator().celsius() <= end.cutOutCelsius()) {
            cutOutAt = seen.at(end.cutOutCelsius());
        }
        long over = cutOutAt + StrictMath.round(end.timerSeconds() * 1000);
        return cutOutAt >= 0 && seen.millis() >= over ? Optional.of(over) : Optional.empty();
    }

    private void harvest(Seen seen, double elapsed) {
        Optional<Long> end = harvestEnd(seen, elapsed);
        if (end.isEmpty()) {
            return;
        }
        events.duration(end.get(), Channel.HARVEST_TIME, elapsedSeconds(end.get()));
        boolean cold = !seen.evaporatorOpen() && seen.evaporator().celsius() < COLD_HARVEST_CELSIUS;
        coldHarvests = cold ? coldHarvests + 1 : 0;
        if (coldHarvests >= COLD_HARVESTS) {
            coldHarvests = 0;
            stop(StopReason.NO_HARVEST, end.get());
            return;
        }
        if (!cold) {
            retries.clear();
        }
        next(seen, end.get());
    }

    private Optional<Long> harvestEnd(Seen seen, double elapsed) {
        if (seen.evaporatorOpen()) {
            return after(REDUCED_HARVEST_SECONDS, elapsed);
        }
        if (control.harvestEnd() instanceof HarvestEnd.Temperature t) {
            if (elapsed >= HarvestEnd.SHORTEST_SECONDS && seen.evaporator().celsius() >= t.celsius()) {
                long crossed = seen.at(t.celsius());
                return Optional.of(Math.max(crossed, since + StrictMath.round(HarvestEnd.SHORTEST_SECONDS * 1000)));
            }
            return after(HarvestEnd.LONGEST_SECONDS, elapsed);
        }
        double limit = ((HarvestEnd.Time) control.harvestEnd()).seconds();
        return after(limit, elapsed);
    }

    /** The moment at which a length of time is over, if it is. */
    private Optional<Long> after(double seconds, double elapsed) {
        return elapsed >= seconds ? Optional.of(since + StrictMath.round(seconds * 1000)) : Optional.empty();
    }

    private void stopped(Seen seen, double elapsed) {
        StopReason reason = stop.orElseThrow();
        boolean fit = reason != StopReason.CONDENSING || seen.condenserCelsius() < 45;
        if (!retries.exhausted() && elapsed >= reason.pauseSeconds() && fit) {
            stop = Optional.empty();
            enter(Phase.FILL, seen.millis(), false);
        }
    }

    private void stop(StopReason reason, long millis) {
        stop = Optional.of(reason);
        retries.stopped(reason);
        events.stopped(millis, reason);
        enter(Phase.STOPPED, millis, false);
    }

    private void enter(Phase next, long millis, boolean reduced) {
        phase = next;
        since = millis;
        cutOutAt = -1;
        pulledDown = false;
        if (next != Phase.STOPPED) {
            stop = Optional.empty();
        }
        if (next == Phase.FREEZE) {
            cyclesBegun = true;
        }
        Phase word = reduced && (next == Phase.FREEZE || next == Phase.HARVEST) ? Phase.REDUCED : next;
        if (word != said) {
            said = word;
            events.phase(millis, word);
        }
    }

    /** What the machine calls its phase. */
    Phase said() {
        return said;
    }
}
