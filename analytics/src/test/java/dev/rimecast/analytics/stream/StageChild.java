package dev.rimecast.analytics.stream;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;

/** The process with the stage that is killed. Arguments: bootstrap servers, state directory, pause of a step in ns. */
final class StageChild {
    private StageChild() {}

    public static void main(String[] arguments) throws InterruptedException {
        AnalyticsStage.start(
                StageSettings.oneMachine(arguments[0], Path.of(arguments[1])),
                new SimpleMeterRegistry(),
                new CountingStep(Long.parseLong(arguments[2])));
        Thread.currentThread().join();
    }
}
