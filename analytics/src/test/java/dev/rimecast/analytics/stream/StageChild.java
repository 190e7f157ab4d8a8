package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.engines.EmbeddedKafka;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;
import java.util.concurrent.locks.LockSupport;

/**
 * The process with the stage that is killed. Arguments: bootstrap servers, state directory, {@code counting} or
 * {@code product}, and the pause of a step in nanoseconds, so that there is time to be killed.
 */
final class StageChild {
    private StageChild() {}

    public static void main(String[] arguments) throws InterruptedException {
        long pauseNanos = Long.parseLong(arguments[3]);
        MonitorStep product = SiteMonitor::accept;
        MonitorStep step = arguments[2].equals("counting") ? CountingStep.AT_ONCE : product;
        AnalyticsStage.start(
                StageSettings.oneMachine(EmbeddedKafka.clientOf(Path.of(arguments[0])), Path.of(arguments[1])),
                new SimpleMeterRegistry(),
                (monitor, entry, out) -> {
                    LockSupport.parkNanos(pauseNanos);
                    step.apply(monitor, entry, out);
                });
        Thread.currentThread().join();
    }
}
