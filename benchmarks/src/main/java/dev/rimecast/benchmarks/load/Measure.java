package dev.rimecast.benchmarks.load;

import com.sun.management.OperatingSystemMXBean;
import java.lang.management.ManagementFactory;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;

/**
 * What one run of a part came to.
 *
 * @param packsPerSecond by the clock on the wall; moves with whatever else the machine does
 * @param microsPerPack processor time of this process without the load's own, µs; 0 where it was not asked for
 * @param more what else is to be told, by name
 */
record Measure(double packsPerSecond, double microsPerPack, Map<String, Double> more) {
    private static final double NANOS = 1e9;
    private static final long LOOK_MILLIS = 10;
    /** What work comes to goes here, so that none of it can be left out. */
    private static volatile long result;

    /** How processor time and packs grow over a while. */
    static Measure over(double seconds, LongSupplier packs, long loadThread) throws InterruptedException {
        long until = System.nanoTime() + (long) (seconds * NANOS);
        return until(() -> System.nanoTime() >= until, packs, loadThread);
    }

    /** As {@link #over}, until something is so. */
    static Measure until(BooleanSupplier end, LongSupplier packs, long loadThread) throws InterruptedException {
        long count = packs.getAsLong();
        long start = System.nanoTime();
        long cpu = processNanos();
        long load = threadNanos(loadThread);
        while (!end.getAsBoolean()) {
            TimeUnit.MILLISECONDS.sleep(LOOK_MILLIS);
        }
        double done = Math.max(1, packs.getAsLong() - count);
        double nanos = processNanos() - cpu - (threadNanos(loadThread) - load);
        return new Measure(done / ((System.nanoTime() - start) / NANOS), nanos / 1000 / done, Map.of());
    }

    /** Packs that one thread went through: time on the wall is not told, the thread's own is. */
    static Measure ofThread(LongSupplier work, long packs) {
        long before = threadNanos(Thread.currentThread().getId());
        result = work.getAsLong();
        double nanos = threadNanos(Thread.currentThread().getId()) - before;
        return new Measure(packs / nanos * NANOS, nanos / 1000 / packs, Map.of());
    }

    Measure with(String name, double value) {
        Map<String, Double> all = new LinkedHashMap<>(more);
        all.put(name, value);
        return new Measure(packsPerSecond, microsPerPack, all);
    }

    private static long processNanos() {
        return ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean()).getProcessCpuTime();
    }

    /** Of one thread; 0 where it is none. */
    static long threadNanos(long thread) {
        return thread == 0 ? 0 : Math.max(0, ManagementFactory.getThreadMXBean().getThreadCpuTime(thread));
    }

    /** Processor time of the threads whose names have this in them, ns. */
    static long threadsNanos(String name) {
        var threads = ManagementFactory.getThreadMXBean();
        long sum = 0;
        for (var info : threads.getThreadInfo(threads.getAllThreadIds())) {
            if (info != null && info.getThreadName().contains(name)) {
                sum += threadNanos(info.getThreadId());
            }
        }
        return sum;
    }

    static double median(double... values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int middle = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    @Override
    public String toString() {
        return String.format(Locale.ROOT, "%,.0f packs/s, %.1f us/pack %s", packsPerSecond, microsPerPack, more);
    }
}
