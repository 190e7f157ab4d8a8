package dev.rimecast.benchmarks.load;

import dev.rimecast.app.server.Version;
import java.lang.management.ManagementFactory;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Under what a run was measured: without it two files of figures can't be compared. */
final class Circumstances {
    private final Instant began = Instant.now();
    private final double loadBefore = load();
    private final List<String> options;

    /** @param options of the command line */
    Circumstances(List<String> options) {
        this.options = List.copyOf(options);
    }

    /** Asked at the end: the load of the last minute is then that of the run. */
    Map<String, Object> told() {
        Map<String, Object> told = new LinkedHashMap<>();
        told.put("version", Version.text());
        told.put("began", began.truncatedTo(ChronoUnit.SECONDS).toString());
        told.put("ended", Instant.now().truncatedTo(ChronoUnit.SECONDS).toString());
        told.put("options", String.join(" ", options));
        told.put("cores", Runtime.getRuntime().availableProcessors());
        told.put("system", System.getProperty("os.name") + ' ' + System.getProperty("os.arch"));
        told.put("java", System.getProperty("java.vm.name") + ' ' + System.getProperty("java.vm.version"));
        told.put(
                "java options",
                String.join(" ", ManagementFactory.getRuntimeMXBean().getInputArguments()));
        told.put("heap at most, B", Runtime.getRuntime().maxMemory());
        told.put("load average before", loadBefore);
        told.put("load average after", load());
        return told;
    }

    /** Of the last minute; below 0 where the system does not tell. */
    private static double load() {
        return ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage();
    }
}
