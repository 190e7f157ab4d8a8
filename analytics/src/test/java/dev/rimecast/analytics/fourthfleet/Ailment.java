package dev.rimecast.analytics.fourthfleet;

import java.util.OptionalLong;

/** How far the fault of a machine has come, and what became of it. */
final class Ailment {
    private static final int CYCLES_OF_A_STEP = 3;
    private static final long WANTED_WITH_CYCLES = 2 * 3600;
    private static final long WANTED_WITHOUT = 4 * 3600;

    final Fault fault;
    private final boolean sound;
    private FaultKind active = FaultKind.NONE;
    private double grown;
    private double extent;
    private boolean repaired;
    private long cycles;
    private long wantedSeconds;
    private OptionalLong stopped = OptionalLong.empty();
    private OptionalLong developed = OptionalLong.empty();
    private OptionalLong stepDeadline = OptionalLong.empty();

    Ailment(Fault fault) {
        this.fault = fault;
        this.sound = fault.kind() == FaultKind.NONE;
    }

    void second(long t) {
        if (sound || t < fault.onset()) {
            return;
        }
        grown = repaired ? 0 : fault.grown(t);
        extent = grown * fault.size();
        active = grown > 0 ? fault.kind() : FaultKind.NONE;
        if (!fault.isStep() && developed.isEmpty() && fault.isDevelopedEnough(grown)) {
            developed = OptionalLong.of(t);
        }
    }

    boolean is(FaultKind kind) {
        return active == kind;
    }

    FaultKind active() {
        return active;
    }

    /** Present size of this fault, 0 if the machine has another or none. */
    double of(FaultKind kind) {
        return active == kind ? extent : 0;
    }

    double grown() {
        return grown;
    }

    boolean isDueAt(long t) {
        return !sound && t >= fault.onset() && !repaired;
    }

    boolean isRepaired() {
        return repaired;
    }

    void repair() {
        repaired = true;
        grown = 0;
        extent = 0;
        active = FaultKind.NONE;
    }

    void cycleEnded(long t) {
        cycles += !sound && t >= fault.onset() ? 1 : 0;
    }

    /** Protection, or the controller itself, has stopped the machine. */
    void stop(long t) {
        if (isDueAt(t) && stopped.isEmpty()) {
            stopped = OptionalLong.of(t);
        }
    }

    OptionalLong stopped() {
        return stopped;
    }

    /** A step has three cycles and two hours of wanted running, or four hours if no cycles come; some kinds a fixed time. */
    void watchDeadline(long t, boolean wanted) {
        if (sound || !fault.isStep() || stepDeadline.isPresent() || t < fault.onset()) {
            return;
        }
        wantedSeconds += wanted ? 1 : 0;
        long fixed = fixedDeadlineSeconds();
        boolean late = fixed > 0
                ? t >= fault.onset() + fixed
                : (cycles >= CYCLES_OF_A_STEP && wantedSeconds >= WANTED_WITH_CYCLES)
                        || wantedSeconds >= WANTED_WITHOUT;
        if (late) {
            stepDeadline = OptionalLong.of(t);
        }
    }

    private long fixedDeadlineSeconds() {
        return switch (fault.kind()) {
            case LEFT_IN_CLEANING -> 6 * 3600;
            case POWER_OFF -> 24 * 3600;
            case BIN_SENSOR_FAILED -> saysFull() ? 36 * 3600 : 4 * 86_400;
            default -> 0;
        };
    }

    /** A bin sensor that failed says full for ever, or never. */
    boolean saysFull() {
        return (fault.mode() & 1) == 1;
    }

    /** The last moment at which a warning is of use. */
    long deadline(long end) {
        if (fault.isStep()) {
            return stepDeadline.orElse(Math.min(end, fault.onset() + 2 * 86_400));
        }
        long stop = stopped.orElse(Long.MAX_VALUE);
        long grownEnough = developed.orElse(Long.MAX_VALUE);
        long first = Math.min(stop, grownEnough);
        return first == Long.MAX_VALUE ? fault.developedEnoughAt() : first;
    }
}
