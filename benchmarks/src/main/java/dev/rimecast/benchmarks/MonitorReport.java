package dev.rimecast.benchmarks;

import com.sun.management.ThreadMXBean;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.proof.Proof;
import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;

/**
 * What {@link MonitorBenchmark} measures, by the thread's own processor time, so that it can be compared on a machine that
 * others use, too; and bytes allocated for each reading: where a cycle ends or something is found, and everywhere else.
 */
public final class MonitorReport implements SiteMonitor.Output {
    private static final int WARM_UP_ROUNDS = 6;
    private static final int ROUNDS = 9;
    private static final double NANOS = 1e9;

    private final ThreadMXBean thread = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    private boolean said;
    private long cycles;
    private long commonPacks;
    private long commonBytes;
    private long otherPacks;
    private long otherBytes;
    private long ticks;
    private long tickBytes;

    private MonitorReport() {}

    public static void main(String[] args) {
        for (int samplingSeconds : new int[] {10, 60}) {
            System.out.printf(Locale.ROOT, "one temperature reading each %d s:%n", samplingSeconds);
            new MonitorReport().run(RecordedSite.simulate(samplingSeconds));
        }
    }

    private void run(RecordedSite site) {
        List<Double> rates = new ArrayList<>();
        for (int round = 0; round < WARM_UP_ROUNDS + ROUNDS; round++) {
            double rate = rate(site);
            if (round >= WARM_UP_ROUNDS) {
                rates.add(rate);
            }
        }
        Collections.sort(rates);
        System.out.printf(
                Locale.ROOT,
                "  readings per second of processor time: median %,.0f, %,.0f to %,.0f%n",
                rates.get(ROUNDS / 2),
                rates.get(0),
                rates.get(ROUNDS - 1));
        allocate(site);
        print();
    }

    private double rate(RecordedSite site) {
        SiteMonitor monitor = site.learned();
        long packs = 0;
        long before = thread.getCurrentThreadCpuTime();
        for (SiteRecord record : site.log()) {
            monitor.accept(record, this);
            packs += record instanceof SiteRecord.Pack ? 1 : 0;
        }
        return packs * RecordedSite.PACK * NANOS / (thread.getCurrentThreadCpuTime() - before);
    }

    private void allocate(RecordedSite site) {
        SiteMonitor monitor = site.learned();
        cycles = 0;
        for (SiteRecord record : site.log()) {
            said = false;
            long before = thread.getCurrentThreadAllocatedBytes();
            monitor.accept(record, this);
            count(record, thread.getCurrentThreadAllocatedBytes() - before);
        }
    }

    private void count(SiteRecord record, long bytes) {
        if (record instanceof SiteRecord.Tick) {
            ticks++;
            tickBytes += bytes;
        } else if (said) {
            otherPacks++;
            otherBytes += bytes;
        } else {
            commonPacks++;
            commonBytes += bytes;
        }
    }

    private void print() {
        System.out.printf(
                Locale.ROOT,
                "  common path: %,d readings, %.2f B each%n"
                        + "  packs in which a cycle ends or something is found: %,d (%,d cycles), %,.0f B each%n"
                        + "  minutes: %,d, %,.0f B each%n",
                commonPacks * RecordedSite.PACK,
                commonBytes / (double) Math.max(1, commonPacks * RecordedSite.PACK),
                otherPacks,
                cycles,
                otherBytes / (double) Math.max(1, otherPacks),
                ticks,
                tickBytes / (double) Math.max(1, ticks));
    }

    @Override
    public void cycle(Cycle cycle) {
        said = true;
        cycles++;
    }

    @Override
    public void finding(Finding finding) {
        said = true;
    }

    @Override
    public void proof(Proof proof) {}
}
