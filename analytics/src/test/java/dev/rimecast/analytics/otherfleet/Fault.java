package dev.rimecast.analytics.otherfleet;

/**
 * What goes wrong with one machine.
 *
 * @param onsetSeconds of the simulation's clock
 * @param growthSeconds from the first sign to the whole amount; 0 for a step
 * @param severity 0 mild to 1 severe
 */
record Fault(FaultKind kind, double onsetSeconds, double growthSeconds, double severity) {
    private static final double DAY_SECONDS = 86_400;
    private static final double DEVELOPED_ENOUGH = 0.8;

    double developed(double now) {
        if (now < onsetSeconds) {
            return 0;
        }
        return growthSeconds <= 0 ? 1 : Math.min(1, (now - onsetSeconds) / growthSeconds);
    }

    /** After this a warning is too late, were there no stop before: 80 % developed; for a step, a day. */
    double latestSeconds() {
        return onsetSeconds + (growthSeconds <= 0 ? DAY_SECONDS : DEVELOPED_ENOUGH * growthSeconds);
    }

    boolean isStep() {
        return growthSeconds <= 0;
    }
}
