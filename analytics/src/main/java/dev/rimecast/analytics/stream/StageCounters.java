package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.telemetry.ack.PackGap;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.InstantSource;

/**
 * What this process has done with the sites' logs since it started.
 * {@code stored = used + repeated + late + conflicting + unregistered}, as {@link MonitorCounts} has it.
 * A transaction that is done again counts again; the totals that do not are in the monitors' state.
 */
final class StageCounters {
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
    private final TaskFigures tasks;

    StageCounters(MeterRegistry registry) {
        this(registry, InstantSource.system());
    }

    StageCounters(MeterRegistry registry, InstantSource wall) {
        used = counter(registry, "used");
        repeated = counter(registry, "repeated");
        late = counter(registry, "late");
        conflicting = counter(registry, "conflicting");
        unregistered = counter(registry, "unregistered");
        cycles = Counter.builder("rimecast.analytics.cycles")
                .description("Cycles that were recognised")
                .register(registry);
        findings = Counter.builder("rimecast.analytics.findings")
                .description("Findings raised, changed or cleared")
                .register(registry);
        gaps = Counter.builder("rimecast.analytics.pack.gaps")
                .description("Times that numbered packs of a gateway were given up because they never came")
                .register(registry);
        missingPacks = Counter.builder("rimecast.analytics.packs.missing")
                .description("Numbered packs that were given up")
                .register(registry);
        undecoded = deadLetters(registry, DeadLetter.Reason.DECODE);
        unprocessed = deadLetters(registry, DeadLetter.Reason.PROCESS);
        tasks = new TaskFigures(registry, wall);
    }

    private static Counter counter(MeterRegistry registry, String outcome) {
        return Counter.builder("rimecast.analytics.readings")
                .description("Readings of the sites' logs, by what became of them")
                .tag("outcome", outcome)
                .register(registry);
    }

    private static Counter deadLetters(MeterRegistry registry, DeadLetter.Reason reason) {
        return Counter.builder("rimecast.analytics.dead.letters")
                .description("Records that could not be processed, and were put aside")
                .tag("reason", reason.code())
                .register(registry);
    }

    TaskFigures tasks() {
        return tasks;
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
