package dev.rimecast.app.faults;

import dev.rimecast.app.spine.Http;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Somebody who looks at the lists all the time, and how long each answer takes. */
final class PageProbe implements AutoCloseable {
    private static final List<String> LISTS =
            List.of("/api/v1/alerts?limit=500", "/api/v1/cases?limit=200", "/api/v1/sites");
    private static final long EVERY_MILLIS = 200;

    private final Http http;
    private final TreeMap<String, List<Long>> millis = new TreeMap<>();
    private final List<String> bad = new ArrayList<>();
    private final CountDownLatch ended = new CountDownLatch(1);
    private final Thread thread = new Thread(this::look, "page-probe");

    PageProbe(Http http) {
        this.http = http;
        thread.setDaemon(true);
        thread.start();
    }

    private void look() {
        try {
            do {
                for (String list : LISTS) {
                    long before = System.nanoTime();
                    String answer = http.get(list);
                    long took = (System.nanoTime() - before) / 1_000_000;
                    synchronized (this) {
                        millis.computeIfAbsent(list, one -> new ArrayList<>()).add(took);
                        if (!answer.startsWith("[") && !answer.startsWith("{\"sites\"")) {
                            bad.add(list + ": " + answer.substring(0, Math.min(200, answer.length())));
                        }
                    }
                }
            } while (!ended.await(EVERY_MILLIS, TimeUnit.MILLISECONDS));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (RuntimeException e) {
            synchronized (this) {
                bad.add(String.valueOf(e));
            }
        }
    }

    /** Answers that were none. */
    synchronized List<String> bad() {
        return List.copyOf(bad);
    }

    /** The slowest list's time that so many of a hundred answers took at most, milliseconds. */
    synchronized long percentile(int percent) {
        return millis.values().stream()
                .mapToLong(each -> percentile(each, percent))
                .max()
                .orElseThrow();
    }

    private static long percentile(List<Long> each, int percent) {
        List<Long> sorted = each.stream().sorted().toList();
        return sorted.get(Math.min(sorted.size() - 1, sorted.size() * percent / 100));
    }

    synchronized String inWords() {
        StringBuilder words = new StringBuilder();
        millis.forEach((list, each) -> words.append("%s: %d answers, p50 %d ms, p99 %d ms, longest %d ms; "
                .formatted(list, each.size(), percentile(each, 50), percentile(each, 99), percentile(each, 100))));
        return words.toString();
    }

    @Override
    public void close() throws InterruptedException {
        ended.countDown();
        thread.join();
    }
}
