package dev.rimecast.benchmarks.load;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import io.vertx.core.Context;
import io.vertx.core.Vertx;
import io.vertx.core.VertxOptions;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.net.NetClient;
import io.vertx.core.net.NetClientOptions;
import io.vertx.core.net.NetSocket;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.Nullable;

/**
 * Gateways, one for each clone of the recorded site, that publish its packs over MQTT: all the same minute, then the next. They
 * send as fast as receipts come, or at a given rate. All of them on one thread, so that what they take can be told from what
 * is measured.
 */
final class MqttLoad implements AutoCloseable {
    /** Below the 100 that a server may allow without being asked. */
    private static final int WINDOW = 90;

    private static final long START_SECONDS = 120;
    private static final int PROBE_READINGS = 2;

    private final List<Template> templates;
    private final List<Gateway> gateways = new ArrayList<>();
    private final AtomicLong clock;
    private final int underWay;
    private final Vertx vertx = Vertx.vertx(new VertxOptions().setEventLoopPoolSize(1));
    private final Context loop = vertx.getOrCreateContext();
    /** Held on to: Vert.x closes the connections of a client that nobody refers to. */
    private final NetClient client = vertx.createNetClient(new NetClientOptions().setTcpNoDelay(true));

    private final CompletableFuture<Long> ended = new CompletableFuture<>();
    private final AtomicLong receipts = new AtomicLong();
    private final AtomicLong bytes = new AtomicLong();
    private final AtomicLong refused = new AtomicLong();
    private final long thread;
    private int probes;
    private final AtomicLong probesSent = new AtomicLong();
    private int position;
    private volatile int last;
    private final AtomicLong sent = new AtomicLong();

    /**
     * @param clock set to the time of what is sent next, before it is
     * @param clones how many gateways
     * @param underWay packs without a receipt, of all gateways together, at most about so many
     */
    MqttLoad(List<Template> templates, AtomicLong clock, int clones, int underWay) {
        this.templates = templates;
        this.clock = clock;
        this.underWay = underWay;
        for (int clone = 0; clone < clones; clone++) {
            gateways.add(new Gateway(clone));
        }
        CompletableFuture<Long> id = new CompletableFuture<>();
        loop.runOnContext(unused -> {
            Thread.currentThread().setName("load");
            id.complete(Thread.currentThread().getId());
        });
        this.thread = id.join();
    }

    /** One connection. */
    private final class Gateway {
        private final int clone;
        private int position;
        private int open;
        private int packetId;
        private Buffer rest = Buffer.buffer();
        private @Nullable NetSocket socket;

        Gateway(int clone) {
            this.clone = clone;
        }

        void connected(NetSocket to, CompletableFuture<Void> isIn) {
            socket = to;
            to.handler(data -> read(data, isIn));
            to.closeHandler(unused ->
                    ended.completeExceptionally(new IllegalStateException(Clone.gateway(clone) + " was disconnected")));
            to.write(Buffer.buffer(Template.connect(Clone.gateway(clone))));
        }

        private void read(Buffer data, CompletableFuture<Void> isIn) {
            Buffer all = rest.length() == 0 ? data : rest.appendBuffer(data);
            int at = 0;
            int answers = 0;
            while (at + 2 <= all.length() && at + 2 + all.getByte(at + 1) <= all.length()) {
                int type = all.getByte(at) & 0xF0;
                int length = all.getByte(at + 1);
                if (type == 0x20) {
                    isIn.complete(null);
                } else if (type == 0x40) {
                    answers++;
                    if (length > 2 && (all.getByte(at + 4) & 0x80) != 0) {
                        refused.incrementAndGet();
                    }
                }
                at += 2 + length;
            }
            rest = at == all.length() ? Buffer.buffer() : all.getBuffer(at, all.length());
            if (answers > 0) {
                open -= answers;
                receipts.addAndGet(answers);
                send();
                advance();
            }
        }

        void publish(Template template, long seq) {
            packetId = packetId % 60_000 + 1;
            byte[] packet = template.of(clone, packetId, seq);
            open++;
            sent.incrementAndGet();
            bytes.addAndGet(packet.length);
            Objects.requireNonNull(socket).write(Buffer.buffer(packet));
        }

        void send() {
            if (position >= MqttLoad.this.position || open >= WINDOW) {
                return;
            }
            Buffer out = Buffer.buffer(1024);
            while (position < MqttLoad.this.position && open < WINDOW) {
                packetId = packetId % 60_000 + 1;
                byte[] packet = templates.get(position).of(clone, packetId, position + 1);
                out.appendBytes(packet);
                position++;
                open++;
                sent.incrementAndGet();
            }
            bytes.addAndGet(out.length());
            Objects.requireNonNull(socket).write(out);
        }
    }

    /** Connects all gateways. */
    void connect(int port) throws Exception {
        for (Gateway gateway : gateways) {
            CompletableFuture<Void> isIn = new CompletableFuture<>();
            loop.runOnContext(unused -> client.connect(port, "127.0.0.1")
                    .onSuccess(socket -> gateway.connected(socket, isIn))
                    .onFailure(isIn::completeExceptionally));
            isIn.get(START_SECONDS, TimeUnit.SECONDS);
        }
    }

    /** Sends the next {@code steps} packs of every gateway as fast as receipts come; completes when all have theirs. */
    CompletableFuture<Long> run(int steps) {
        last = Math.min(templates.size(), last + steps);
        loop.runOnContext(unused -> advance());
        return ended;
    }

    /** Lets the gateways send one more pack each, whatever is under way. Returns false when the packs are used up. */
    boolean step() {
        if (last >= templates.size()) {
            return false;
        }
        last++;
        int upTo = last;
        loop.runOnContext(unused -> {
            while (position < upTo) {
                next();
            }
        });
        return true;
    }

    /**
     * Publishes two readings of a condenser that is far too hot, of the next machine that had none yet.
     *
     * @return the machine
     */
    String probe(LearnedSite site, long atMillis) {
        int clone = probes % gateways.size();
        int turn = probes / gateways.size();
        String first = site.machines().get(turn % site.machines().size()).id();
        probes++;
        Template template = Template.of(hot(first, atMillis), "probe");
        loop.runOnContext(unused -> {
            probesSent.incrementAndGet();
            gateways.get(clone).publish(template, turn + 1L);
        });
        return Clone.name(clone) + first.substring(Clone.FIRST.length());
    }

    /** Two readings of a condenser, one of them after the other: a single wild one is none. */
    static LearnedSite.Pack hot(String machine, long atMillis) {
        return new LearnedSite.Pack(
                atMillis,
                List.of(
                        Reading.number(machine, Channel.CONDENSER_TEMPERATURE, atMillis - 1500, 91),
                        Reading.number(machine, Channel.CONDENSER_TEMPERATURE, atMillis - 500, 92)));
    }

    private void advance() {
        while (position < last
                && sent.get() - receipts.get() < underWay
                && (long) position * gateways.size() <= sent.get()) {
            next();
        }
    }

    private void next() {
        clock.accumulateAndGet(templates.get(position).atMillis(), Math::max);
        position++;
        gateways.forEach(Gateway::send);
    }

    /** The thread that all of them share. */
    long thread() {
        return thread;
    }

    /** Packs that were sent; exact only when nothing is being sent. */
    long sent() {
        return sent.get();
    }

    /** Readings in them. */
    long readings() {
        return (sent.get() - probesSent.get()) * LearnedSite.PACK + probesSent.get() * PROBE_READINGS;
    }

    /** Waits until everything that was let go has its receipt. */
    void awaitReceipts(int seconds) throws InterruptedException {
        long until = System.nanoTime() + TimeUnit.SECONDS.toNanos(seconds);
        while ((sent.get() - probesSent.get() < (long) last * gateways.size() || receipts.get() < sent.get())
                && System.nanoTime() < until) {
            TimeUnit.MILLISECONDS.sleep(20);
        }
    }

    /** Packs with a receipt. */
    long receipts() {
        return receipts.get();
    }

    /** Packs whose receipt says that they were not taken. */
    long refused() {
        return refused.get();
    }

    /** Bytes of PUBLISH packets that were sent. */
    long bytes() {
        return bytes.get();
    }

    /** Packs of each gateway that were let go so far. */
    int position() {
        return last;
    }

    int left() {
        return templates.size() - last;
    }

    @Override
    public void close() {
        vertx.close().toCompletionStage().toCompletableFuture().join();
    }
}
