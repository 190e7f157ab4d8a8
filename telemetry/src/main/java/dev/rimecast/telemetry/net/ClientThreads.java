package dev.rimecast.telemetry.net;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.AbstractExecutorService;
import java.util.concurrent.Callable;
import java.util.concurrent.FutureTask;
import java.util.concurrent.RunnableFuture;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.logging.Logger;

/**
 * The threads of one client of MQTT. Eclipse Paho 1.2.5 lets a client be closed while its threads still run: one that was about to look
 * for the next message finds no list of them any more, and prints a NullPointerException of its {@code CommsSender}. With threads of our
 * own we know when they have ended, and close the client then.
 */
public final class ClientThreads extends AbstractExecutorService implements ScheduledExecutorService {
    /** Held, since a logger that nobody holds forgets its filter. */
    private static final Logger SENDER = Logger.getLogger("org.eclipse.paho.mqttv5.client.internal.CommsSender");

    /** After which a thread that did not hear is told again. */
    private static final Duration LOOK = Duration.ofMillis(500);
    /** What waits for the network by then may never end. */
    private static final int LOOKS = 40;

    static {
        // A line that ends while something is sent is told to the client's callback, and by it to whoever runs it.
        SENDER.setFilter(said -> !(said.getThrown() instanceof IOException));
    }

    private final Object lock = new Object();
    private int running;

    /** A thread for each task, as the library has them without an executor. */
    @Override
    public void execute(Runnable task) {
        Thread thread = new Thread(() -> {
            try {
                task.run();
            } finally {
                count(-1);
            }
        });
        count(1);
        thread.start();
    }

    private void count(int change) {
        synchronized (lock) {
            running += change;
            lock.notifyAll();
        }
    }

    /** The library would interrupt what runs, which may be our own code, and wait for ever for what it took back before it began. */
    @Override
    protected <T> RunnableFuture<T> newTaskFor(Runnable task, T value) {
        return new FutureTask<>(task, value) {
            @Override
            public boolean cancel(boolean mayInterrupt) {
                return false;
            }
        };
    }

    /**
     * Waits until no thread of the client is left, 20 s at most; not to be called by one of them.
     *
     * @param stop stops the client; called again every half second, for threads that were on their way and did not hear it
     */
    public void awaitEnd(Runnable stop) {
        try {
            for (int look = 0; look < LOOKS && !awaitTermination(LOOK.toMillis(), TimeUnit.MILLISECONDS); look++) {
                stop.run();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Whether no thread is left, which can be before the end, too. */
    @Override
    public boolean awaitTermination(long timeout, TimeUnit unit) throws InterruptedException {
        long until = System.nanoTime() + unit.toNanos(timeout);
        synchronized (lock) {
            for (long left = until - System.nanoTime(); running > 0; left = until - System.nanoTime()) {
                if (left <= 0) {
                    return false;
                }
                TimeUnit.NANOSECONDS.timedWait(lock, left);
            }
            return true;
        }
    }

    /** Nothing: the client says when its threads end. */
    @Override
    public void shutdown() {
        // The library never asks for it.
    }

    @Override
    public List<Runnable> shutdownNow() {
        return List.of();
    }

    @Override
    public boolean isShutdown() {
        return false;
    }

    @Override
    public boolean isTerminated() {
        return false;
    }

    @Override
    public ScheduledFuture<?> schedule(Runnable command, long delay, TimeUnit unit) {
        throw noTimer();
    }

    @Override
    public <V> ScheduledFuture<V> schedule(Callable<V> callable, long delay, TimeUnit unit) {
        throw noTimer();
    }

    @Override
    public ScheduledFuture<?> scheduleAtFixedRate(Runnable command, long initialDelay, long period, TimeUnit unit) {
        throw noTimer();
    }

    @Override
    public ScheduledFuture<?> scheduleWithFixedDelay(Runnable command, long initialDelay, long delay, TimeUnit unit) {
        throw noTimer();
    }

    private static UnsupportedOperationException noTimer() {
        return new UnsupportedOperationException("a client's pings have a timer of their own");
    }
}
