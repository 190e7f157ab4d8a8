package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.net.PatientSockets;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.MqttSubscription;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One box on a site: numbers its packs, keeps each as long as its {@link PackStore} says, and sends what waits again, in
 * order, after every break. Its presence is retained, with {@code offline} as its will. With a {@link FileStore} it
 * listens for how far its packs are stored, deletes only those, and goes on after a restart where it was.
 *
 * <p>Runs on the timer's threads; every method may be called from any thread.
 */
public final class SimulatedGateway implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(SimulatedGateway.class);
    private static final int RECORDS_PER_PACK = 450;

    private static final Duration FIRST_RETRY = Duration.ofMillis(250);
    private static final Duration LONGEST_RETRY = Duration.ofSeconds(15);

    private record Waiter(long seq, CompletableFuture<Void> done) {}

    private final String id;
    private final GatewayLine line;
    private final PackEncoder encoder;
    private final Session session;
    private final ScheduledExecutorService timer;
    private final PackStore store;
    private final Outbox outbox;
    private final GatewayWatch watch;
    private final Deque<Waiter> waiters = new ArrayDeque<>();
    private @Nullable GatewayClient client;
    private Duration retry = FIRST_RETRY;
    private boolean retryPlanned;
    private int epoch;
    private boolean ready;
    private boolean wanted;
    private boolean closed;
    private boolean isPacing;
    /** Why there is no connection; empty while there is one, or where none was tried. */
    private Optional<String> trouble = Optional.empty();

    /** Looks whether what has its receipt gets its cover. */
    private @Nullable ScheduledFuture<?> patience;

    /**
     * Keeps packs in memory until their receipt.
     *
     * @param line how it reaches the server
     * @param boot another word at each start of the gateway's counter
     * @param cbor whether {@code encoder} writes SenML CBOR; JSON otherwise
     * @param timer runs reconnects; not closed by the gateway
     */
    public SimulatedGateway(
            String id,
            GatewayLine line,
            String boot,
            PackEncoder encoder,
            boolean cbor,
            ScheduledExecutorService timer) {
        this(id, line, new MemoryStore(boot), Pace.UNLIMITED, encoder, cbor, timer, GatewayWatch.NONE);
    }

    /**
     * Keeps packs in a store of the caller's, and closes it in the end.
     *
     * @param pace of what waited, once the line is back
     * @param watch told what is sent and what comes back
     */
    public SimulatedGateway(
            String id,
            GatewayLine line,
            PackStore store,
            Pace pace,
            PackEncoder encoder,
            boolean cbor,
            ScheduledExecutorService timer,
            GatewayWatch watch) {
        this.id = id;
        this.line = line;
        this.store = store;
        this.outbox = new Outbox(store, pace);
        this.encoder = encoder;
        this.watch = watch;
        this.session = new Session(id, cbor);
        this.timer = timer;
    }

    /** Connects, and goes on trying until closed. */
    public synchronized void start() {
        wanted = true;
        if (client == null && !retryPlanned) {
            connect();
        }
        if (store.waitsForCover() && patience == null) {
            long look = outbox.pace().againAfter().toMillis() / 2 + 1;
            patience = timer.scheduleWithFixedDelay(this::goOn, look, look, TimeUnit.MILLISECONDS);
        }
    }

    /** Sends readings, oldest first; done when these and all before them have their receipts. */
    public synchronized CompletableFuture<Void> publish(List<Reading> readings) {
        for (int from = 0; from < readings.size(); from += RECORDS_PER_PACK) {
            store.add(encoder.encode(
                    new ArrayList<>(readings.subList(from, Math.min(readings.size(), from + RECORDS_PER_PACK)))));
        }
        store.settle();
        CompletableFuture<Void> done = new CompletableFuture<>();
        waiters.add(new Waiter(store.lastSeq(), done));
        sendWaiting();
        tellWaiters();
        return done;
    }

    /** Breaks the connection without a farewell, as a power cut would; {@link #start} brings it back. */
    public synchronized void cut() {
        wanted = false;
        drop();
    }

    private void drop() {
        epoch++;
        ready = false;
        outbox.disconnected();
        GatewayClient old = client;
        client = null;
        if (old != null) {
            // Elsewhere: the library waits there for its callback, which may be waiting for us.
            timer.execute(old::end);
        }
    }

    /** Packs that are kept: without a receipt, or in a {@link FileStore} without cover. */
    public synchronized int waiting() {
        return store.size();
    }

    /** The number of the last pack; 0: none. */
    public synchronized long lastSeq() {
        return store.lastSeq();
    }

    /** Why it has no connection, in words; empty while it has one, or has not tried. */
    public synchronized Optional<String> trouble() {
        return trouble;
    }

    private void connect() {
        int mine = ++epoch;
        try {
            GatewayClient next = new GatewayClient(line.serverUri(), id);
            next.setCallback(new Connection(this, mine));
            client = next;
            MqttConnectionOptions options = session.options(line);
            if (line.serverUri().startsWith("tcp://")) {
                options.setSocketFactory(new PatientSockets());
            }
            var unused =
                    next.connect(options, null, listener(mine, token -> connected(mine, token), this::connectFailed));
        } catch (MqttException e) {
            connectFailed(e);
        }
    }

    private void connected(int mine, IMqttToken token) {
        if (mine != epoch) {
            return;
        }
        ready = true;
        trouble = Optional.empty();
        retry = FIRST_RETRY;
        outbox.connected(Session.window(token), System.nanoTime());
        if (store.waitsForCover()) {
            // Before the presence: who hears that we are online tells us at once what is stored.
            listen(mine);
        }
        publish(session.presenceTopic(), Session.presence("online"), mine, 0);
        sendWaiting();
    }

    private void listen(int mine) {
        GatewayClient current = client;
        if (current == null) {
            return;
        }
        try {
            MqttSubscription own = new MqttSubscription(session.ackTopic(), 1);
            var unused = current.subscribe(
                    new MqttSubscription[] {own},
                    null,
                    listener(mine, token -> {}, e -> lost(mine, e.toString())),
                    null);
        } catch (MqttException e) {
            LOG.debug("{}: subscribe", id, e);
            planReconnect();
        }
    }

    /** What came for us; on the client's thread. */
    synchronized void heard(int mine, byte[] payload) {
        if (mine != epoch) {
            return;
        }
        PackNumber upTo;
        try {
            upTo = GatewayAckJson.readPayload(payload);
        } catch (MalformedRecordException e) {
            LOG.warn("{}: an acknowledgement that can't be read: {}", id, e.getMessage());
            return;
        }
        outbox.covered(upTo, System.nanoTime());
        watch.covered(upTo);
        sendWaiting();
        tellWaiters();
    }

    private void connectFailed(Throwable reason) {
        LOG.debug("{}: no connection: {}", id, reason.toString());
        trouble = Optional.of(Session.why(reason));
        planReconnect();
    }

    synchronized void lost(int mine, String reason) {
        if (mine == epoch) {
            LOG.debug("{}: connection lost: {}", id, reason);
            planReconnect();
        }
    }

    private void planReconnect() {
        if (closed || retryPlanned) {
            return;
        }
        drop();
        retryPlanned = true;
        long wait = retry.toMillis();
        retry = retry.multipliedBy(2).compareTo(LONGEST_RETRY) > 0 ? LONGEST_RETRY : retry.multipliedBy(2);
        var unused = timer.schedule(this::reconnect, wait, TimeUnit.MILLISECONDS);
    }

    private synchronized void reconnect() {
        retryPlanned = false;
        if (!closed && wanted) {
            connect();
        }
    }

    private void sendWaiting() {
        if (!ready) {
            return;
        }
        outbox.againIfStalled(System.nanoTime());
        Optional<PackStore.Numbered> next = outbox.next(System.nanoTime());
        while (ready && next.isPresent()) {
            send(next.get());
            next = outbox.next(System.nanoTime());
        }
        long wait = outbox.waitNanos(System.nanoTime());
        if (wait > 0 && !isPacing) {
            isPacing = true;
            var unused = timer.schedule(this::paced, wait, TimeUnit.NANOSECONDS);
        }
    }

    private synchronized void paced() {
        isPacing = false;
        goOn();
    }

    private synchronized void goOn() {
        if (!closed) {
            sendWaiting();
        }
    }

    private void send(PackStore.Numbered pack) {
        watch.sends(new PackNumber(store.boot(), pack.seq()), pack.payload());
        publish(session.packTopic(), session.pack(store.boot(), pack), epoch, pack.seq());
    }

    private void publish(String to, MqttMessage message, int mine, long seq) {
        GatewayClient current = client;
        if (current == null) {
            return;
        }
        try {
            var unused = current.publish(
                    to, message, null, listener(mine, token -> receipt(mine, seq), e -> lost(mine, e.toString())));
        } catch (MqttException e) {
            LOG.debug("{}: publish {}", id, seq, e);
            planReconnect();
        }
    }

    private void receipt(int mine, long seq) {
        if (mine != epoch || seq == 0) {
            return;
        }
        outbox.receipt(seq);
        watch.receipt(new PackNumber(store.boot(), seq));
        sendWaiting();
        tellWaiters();
    }

    private void tellWaiters() {
        while (!waiters.isEmpty() && outbox.isReceipted(waiters.peek().seq())) {
            waiters.poll().done().complete(null);
        }
    }

    private MqttActionListener listener(int mine, Consumer<IMqttToken> good, Consumer<Throwable> bad) {
        return Session.listener(
                token -> {
                    synchronized (this) {
                        good.accept(token);
                    }
                },
                reason -> {
                    synchronized (this) {
                        if (mine == epoch) {
                            bad.accept(reason);
                        }
                    }
                });
    }

    /** Says goodbye and disconnects; what waits stays unsent. */
    @Override
    public void close() {
        GatewayClient last;
        boolean polite;
        synchronized (this) {
            closed = true;
            if (patience != null) {
                patience.cancel(false);
            }
            polite = ready;
            last = client;
            client = null;
            ready = false;
            epoch++;
            store.close();
        }
        if (last == null) {
            return;
        }
        if (polite) {
            try {
                last.publish(session.presenceTopic(), Session.presence("offline"))
                        .waitForCompletion(500);
                last.disconnect(0).waitForCompletion(500);
            } catch (MqttException e) {
                LOG.debug("{}: closing", id, e);
            }
        }
        last.end();
    }
}
