package dev.rimecast.app.command;

import dev.rimecast.engines.EngineFailure;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Keeps a command going until Ctrl-C, a termination signal, or an engine that gives up. Whatever it is, what runs is
 * closed in order; an end that hangs is cut off after ten seconds.
 */
final class UntilStopped {
    private static final Logger LOG = LoggerFactory.getLogger(UntilStopped.class);
    private static final int LONGEST_STOP_SECONDS = 10;

    private final CountDownLatch stop = new CountDownLatch(1);
    private final CountDownLatch stopped = new CountDownLatch(1);
    private volatile boolean engineFailed;

    /** What is to be closed when the process is told to end. */
    void closing(AutoCloseable running) {
        Runtime.getRuntime()
                .addShutdownHook(new Thread(
                        () -> {
                            stop.countDown();
                            Thread closer = new Thread(() -> close(running), "closing");
                            closer.setDaemon(true);
                            closer.start();
                            waitFor();
                        },
                        "stop"));
    }

    private void close(AutoCloseable running) {
        try {
            running.close();
        } catch (Exception e) {
            LOG.warn("not everything stopped cleanly: {}", e.toString());
        } finally {
            stopped.countDown();
        }
    }

    private void waitFor() {
        try {
            if (!stopped.await(LONGEST_STOP_SECONDS, TimeUnit.SECONDS)) {
                LOG.warn("something did not stop within {} s and is cut off", LONGEST_STOP_SECONDS);
                Runtime.getRuntime().halt(ExitCode.FAILED);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    void failed(EngineFailure failure) {
        LOG.error("{} gave up: {}; the process ends, and can be started again", failure.engine(), failure.reason());
        engineFailed = true;
        stop.countDown();
    }

    boolean isStopping() {
        return stop.getCount() == 0;
    }

    /** @return the command's exit code */
    int await() throws InterruptedException {
        stop.await();
        return engineFailed ? ExitCode.FAILED : ExitCode.OK;
    }
}
