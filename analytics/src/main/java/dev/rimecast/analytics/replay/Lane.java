package dev.rimecast.analytics.replay;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;

/**
 * One thread that decides for some of the sites, in the order in which it is handed rows. Rows wait in batches, at most
 * {@value #BATCHES} of {@value #ROWS}, so that a reader that is faster waits and memory stays bounded.
 */
final class Lane {
    private static final int ROWS = 512;
    private static final int BATCHES = 8;

    private final BlockingQueue<List<Task>> queue = new ArrayBlockingQueue<>(BATCHES);
    private final Thread thread;
    private List<Task> batch = new ArrayList<>(ROWS);
    private volatile Optional<Throwable> failure = Optional.empty();

    private record Task(SiteRun run, String gateway, Row row) {}

    Lane(String name) {
        thread = new Thread(this::work, name);
        thread.setDaemon(true);
        thread.start();
    }

    /** Hands over a row; throws what the thread has failed with before. */
    void add(SiteRun run, String gateway, Row row) {
        batch.add(new Task(run, gateway, row));
        if (batch.size() == ROWS) {
            flush();
        }
    }

    private void flush() {
        throwFailure();
        put(batch);
        batch = new ArrayList<>(ROWS);
    }

    private void put(List<Task> tasks) {
        try {
            queue.put(tasks);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while replaying", e);
        }
    }

    /** Waits until everything is decided. */
    void finish() {
        if (!batch.isEmpty()) {
            flush();
        }
        put(List.of());
        try {
            thread.join();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while replaying", e);
        }
        throwFailure();
    }

    /** Ends the thread, whatever it is doing; nothing if it has ended. */
    void stop() {
        thread.interrupt();
    }

    private void throwFailure() {
        if (failure.isPresent()) {
            Throwable cause = failure.get();
            if (cause instanceof OneMachineAfterTheOther disorder) {
                throw disorder;
            }
            throw new IllegalStateException("a site could not be decided: " + cause.getMessage(), cause);
        }
    }

    private void work() {
        try {
            for (List<Task> tasks = queue.take(); !tasks.isEmpty(); tasks = queue.take()) {
                if (failure.isEmpty()) {
                    tasks.forEach(task -> task.run().row(task.gateway(), task.row()));
                }
            }
        } catch (InterruptedException e) {
            // The reader has given up; it says why.
        } catch (RuntimeException e) {
            failure = Optional.of(e);
            drain();
        }
    }

    /** After a failure batches are taken and dropped, so that the reader comes to see it. */
    private void drain() {
        try {
            while (!queue.take().isEmpty()) {
                // Dropped.
            }
        } catch (InterruptedException e) {
            // The reader has given up.
        }
    }
}
