package dev.rimecast.app.faults;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;

/** Receivers of webhooks that are bad, each in its way and on a host of its own, until they are mended; and a good one beside them. */
final class BadHooks implements AutoCloseable {
    static final int SLOW_SECONDS = 30;

    /** How one answers before it is mended. */
    enum Manner {
        GOOD,
        SLOW,
        HANGS,
        CLOSES,
        REDIRECTS,
        FAILS,
        IS_BUSY
    }

    private final Map<Manner, HttpServer> hosts = new EnumMap<>(Manner.class);
    private final ExecutorService threads = Executors.newCachedThreadPool();
    private final CountDownLatch mended = new CountDownLatch(1);
    /** By receiver: the notices that it has said it has, with all bodies. */
    private final Map<String, Map<String, List<String>>> taken = new ConcurrentHashMap<>();

    BadHooks() throws IOException {
        for (Manner manner : Manner.values()) {
            HttpServer host = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 50);
            host.setExecutor(threads);
            host.createContext("/", exchange -> answer(manner, exchange));
            host.start();
            hosts.put(manner, host);
        }
    }

    String url(Manner manner, String receiver) {
        int port = Objects.requireNonNull(hosts.get(manner)).getAddress().getPort();
        return "http://127.0.0.1:" + port + '/' + receiver;
    }

    private void answer(Manner manner, HttpExchange exchange) throws IOException {
        String body = new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8);
        String receiver = exchange.getRequestURI().getPath().substring(1);
        String id = Objects.requireNonNull(exchange.getRequestHeaders().getFirst("webhook-id"));
        try (exchange) {
            if (mended.getCount() > 0 && !goesOn(manner, exchange)) {
                return;
            }
            taken.computeIfAbsent(receiver, one -> new ConcurrentHashMap<>())
                    .computeIfAbsent(id, one -> Collections.synchronizedList(new ArrayList<>()))
                    .add(body);
            exchange.sendResponseHeaders(204, -1);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Whether it takes the notice after all. */
    private boolean goesOn(Manner manner, HttpExchange exchange) throws IOException, InterruptedException {
        switch (manner) {
            case GOOD -> {
                return true;
            }
            case SLOW -> {
                var unused = mended.await(SLOW_SECONDS, TimeUnit.SECONDS);
                return true;
            }
            case HANGS -> {
                mended.await();
                return false;
            }
            case CLOSES -> {
                return false;
            }
            case REDIRECTS -> {
                exchange.getResponseHeaders().add("Location", url(Manner.GOOD, "elsewhere"));
                exchange.sendResponseHeaders(302, -1);
            }
            case FAILS -> exchange.sendResponseHeaders(500, -1);
            case IS_BUSY -> {
                exchange.getResponseHeaders().add("Retry-After", "5");
                exchange.sendResponseHeaders(429, -1);
            }
        }
        return false;
    }

    /** From now on everybody answers at once. */
    void mend() {
        mended.countDown();
    }

    Set<String> idsAt(String receiver) {
        return new HashSet<>(taken.getOrDefault(receiver, Map.of()).keySet());
    }

    /** Notices of which a repeat said something else. */
    List<String> contradictions() {
        List<String> all = new ArrayList<>();
        taken.forEach((receiver, ids) -> ids.forEach((id, bodies) -> {
            if (new HashSet<>(bodies).size() > 1) {
                all.add(receiver + ' ' + id);
            }
        }));
        return all;
    }

    /** By receiver: notices and how often they came. */
    String inWords() {
        Map<String, String> words = new TreeMap<>();
        taken.forEach((receiver, ids) -> words.put(
                receiver,
                ids.size() + " in " + ids.values().stream().mapToInt(List::size).sum()));
        return words.toString();
    }

    @Override
    public void close() {
        mend();
        hosts.values().forEach(host -> host.stop(0));
        threads.shutdownNow();
    }
}
