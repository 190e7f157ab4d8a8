package dev.rimecast.simulator.physics;

import dev.rimecast.telemetry.machine.Channel;

/**
 * The drain tank. Flows are constant within a step, so the probes' edges are found exactly, not to the step.
 * The level stops at three times the upper probe: from there the water is on the floor.
 */
final class DrainTank {
    private static final double NEVER = Double.POSITIVE_INFINITY;

    private final DrainDesign design;
    private final MachineEvents events;
    private double levelKg;
    private boolean bridged;
    private boolean running;
    private double bridgedSeconds;
    private double runSeconds;
    private double holdLeft;
    private double runOnLeft;
    private double flowShare = 1;
    private boolean pumpRuns = true;
    private double holdSeconds;
    private double holdShare = 1;
    private double flowNoise = 1;

    DrainTank(DrainDesign design, MachineEvents events) {
        this.design = design;
        this.events = events;
    }

    void suffer(Ailments ailments) {
        flowShare = ailments.get(Ailment.DRAIN_FLOW);
        pumpRuns = ailments.is(Ailment.DRAIN_PUMP_RUNS);
        holdSeconds = ailments.get(Ailment.LEVEL_PROBE_HOLD);
    }

    void beginCycle(Noise noise) {
        flowNoise = noise.factor(design.flowDeviation());
        holdShare = holdSeconds > 0 ? noise.exponential() : 1;
    }

    boolean isQuiet() {
        return !bridged && !running;
    }

    /** How long the level signal lasts by now, s; 0 without one. */
    double signalSeconds() {
        return bridged ? bridgedSeconds : 0;
    }

    void step(long startMillis, double dt, double wasteKg) {
        double inflow = wasteKg / dt;
        double left = dt;
        while (left > 1e-9) {
            double net = net(inflow);
            double until = Math.min(left, untilNext(net));
            levelKg = Math.min(3 * design.upperKg(), Math.max(0, levelKg + net * until));
            bridgedSeconds += bridged ? until : 0;
            runSeconds += running ? until : 0;
            holdLeft -= until;
            runOnLeft -= until;
            left -= until;
            edges(startMillis + StrictMath.round((dt - left) * 1000));
        }
    }

    private double net(double inflow) {
        boolean draining = design.pumped() ? running && pumpRuns : levelKg > 0 || inflow > 0;
        double out = draining ? design.outKgPerSecond() * flowShare * flowNoise : 0;
        return levelKg <= 0 ? Math.max(0, inflow - out) : inflow - out;
    }

    private double untilNext(double net) {
        double next = NEVER;
        if (!bridged && net > 0 && levelKg < design.upperKg()) {
            next = (design.upperKg() - levelKg) / net;
        }
        if (bridged && net < 0 && levelKg > design.lowerKg()) {
            next = Math.min(next, (levelKg - design.lowerKg()) / -net);
        }
        if (net < 0 && levelKg > 0) {
            next = Math.min(next, levelKg / -net);
        }
        if (holdLeft > 0) {
            next = Math.min(next, holdLeft);
        }
        if (runOnLeft > 0) {
            next = Math.min(next, runOnLeft);
        }
        return Math.max(next, 1e-6);
    }

    private void edges(long millis) {
        double slack = 1e-7 * design.upperKg();
        if (!bridged && levelKg >= design.upperKg() - slack) {
            bridged = true;
            bridgedSeconds = 0;
            holdLeft = NEVER;
            events.drainLevel(millis, true);
            if (design.pumped() && !running) {
                running = true;
                runSeconds = 0;
            }
            runOnLeft = 0;
        } else if (bridged && levelKg <= design.lowerKg() + slack) {
            if (holdLeft == NEVER) {
                holdLeft = holdSeconds * holdShare;
            }
            if (holdLeft <= 1e-9) {
                unbridge(millis);
            }
        } else if (running && !bridged && runOnLeft <= 1e-9) {
            stopPump(millis);
        }
    }

    private void unbridge(long millis) {
        bridged = false;
        holdLeft = 0;
        events.drainLevel(millis, false);
        events.duration(millis, Channel.DRAIN_LEVEL_TIME, bridgedSeconds);
        runOnLeft = design.runOnSeconds();
        if (running && runOnLeft <= 0) {
            stopPump(millis);
        }
    }

    private void stopPump(long millis) {
        running = false;
        if (pumpRuns) {
            events.duration(millis, Channel.DRAIN_RUN_TIME, runSeconds);
        }
    }
}
