package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.telemetry.ack.PackGap;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;

/**
 * What this process has done with the sites' logs since it started.
 * {@code stored = used + repeated + late + conflicting + unregistered}, as {@link MonitorCounts} has it.
 * A transaction that is done again counts again; the totals that do not are in the monitors' state.
 */
final class StageCounters {
    private static final String READINGS = "rimecast.analytics.readings";
    private static final String DEAD_LETTERS = "rimecast.analytics.dead.letters";

    private final Counter used;
    private final Counter repeated;
    private final Counter late;
    private final Counter conflicting;
    private final Counter unregistered;
    private final Counter cycles;
    private final Counter findings;
    private final Counter gaps;
    private final Counter missingPacks;
    private final Counter undecoded;
    private final Counter unprocessed;

    StageCounters(MeterRegistry registry) {
        used = registry.counter(READINGS, "outcome", "used");
        repeated = registry.counter(READINGS, "outcome", "repeated");
        late = registry.counter(READINGS, "outcome", "late");
        conflicting = registry.counter(READINGS, "outcome", "conflicting");
        unregistered = registry.counter(READINGS, "outcome", "unregistered");
        cycles = registry.counter("rimecast.analytics.cycles");
        findings = registry.counter("rimecast.analytics.findings");
        gaps = Counter.builder("rimecast.analytics.pack.gaps")
                .description("times that numbered packs of a gateway were given up because they never came")
                .register(registry);
        missingPacks = Counter.builder("rimecast.analytics.packs.missing")
                .description("numbered packs that were given up")
                .register(registry);
        undecoded = registry.counter(DEAD_LETTERS, "reason", DeadLetter.Reason.DECODE.code());
        unprocessed = registry.counter(DEAD_LETTERS, "reason", DeadLetter.Reason.PROCESS.code());
    }

    void readings(MonitorCounts before, MonitorCounts after) {
        used.increment(after.used() - before.used());
        repeated.increment(after.repeated() - before.repeated());
        late.increment(after.late() - before.late());
        conflicting.increment(after.conflicting() - before.conflicting());
        unregistered.increment(after.unregistered() - before.unregistered());
    }

    void decided(Decisions decisions) {
        cycles.increment(decisions.cycles().size());
        findings.increment(decisions.findings().size());
        for (PackGap gap : decisions.gaps()) {
            gaps.increment();
            missingPacks.increment(gap.missing());
        }
    }

    void deadLetter(DeadLetter.Reason reason) {
        switch (reason) {
            case DECODE -> undecoded.increment();
            case PROCESS -> unprocessed.increment();
        }
    }
}
