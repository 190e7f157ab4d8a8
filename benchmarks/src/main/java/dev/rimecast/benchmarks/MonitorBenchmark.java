package dev.rimecast.benchmarks;

import dev.rimecast.analytics.monitor.Nowhere;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.log.SiteRecord;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Readings per second and core through the monitor with every detector on, from memory: what minutes and cycle ends cost is
 * in it. At the end of the log the monitor is restored to where the log began.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(
        value = 1,
        jvmArgsAppend = {"-Xmx2g", "-XX:+UseSerialGC"})
@Warmup(iterations = 5, time = 3)
@Measurement(iterations = 5, time = 3)
public class MonitorBenchmark {
    @Param({"10", "60"})
    public int samplingSeconds;

    private @Nullable RecordedSite site;
    private List<SiteRecord> log = List.of();
    private @Nullable SiteMonitor monitor;
    private int next;

    @Setup(Level.Trial)
    public void simulate() {
        site = RecordedSite.simulate(samplingSeconds);
        log = site.log();
        begin();
    }

    private void begin() {
        monitor = Objects.requireNonNull(site).learned();
        next = 0;
    }

    @Benchmark
    @OperationsPerInvocation(RecordedSite.PACK)
    public SiteRecord reading() {
        SiteRecord record = accepted();
        while (!(record instanceof SiteRecord.Pack)) {
            record = accepted();
        }
        return record;
    }

    private SiteRecord accepted() {
        if (next == log.size()) {
            begin();
        }
        SiteRecord record = log.get(next++);
        Objects.requireNonNull(monitor).accept(record, Nowhere.OUTPUT);
        return record;
    }
}
