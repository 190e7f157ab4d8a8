package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One box on a site: numbers its packs, keeps each until its receipt is there, and sends what waits again, in order,
 * after every break. Its presence is retained, with {@code offline} as its will.
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
    private final String serverUri;
    private final String boot;
    private final PackEncoder encoder;
    private final Session session;
    private final String topic;
    private final String contentType;
    private final ScheduledExecutorService timer;
    private final PackStore store = new PackStore();
    private final Deque<Waiter> waiters = new ArrayDeque<>();
    private @Nullable MqttAsyncClient client;
    private Duration retry = FIRST_RETRY;
    private boolean retryPlanned;
    private int epoch;
    private int window = 1;
    private boolean ready;
    private boolean wanted;
    private boolean closed;

    /**
     * @param serverUri e.g. {@code tcp://127.0.0.1:1883}
     * @param boot another word at each start of the gateway's counter
     * @param cbor whether {@code encoder} writes SenML CBOR; JSON otherwise
     * @param timer runs reconnects; not closed by the gateway
     */
    public SimulatedGateway(
            String id,
            String serverUri,
            String boot,
            PackEncoder encoder,
            boolean cbor,
            ScheduledExecutorService timer) {
        this.id = id;
        this.serverUri = serverUri;
        this.boot = boot;
        this.encoder = encoder;
        session = new Session(id);
        this.topic = "fleet/" + id + (cbor ? "/senml-cbor" : "/senml");
        this.contentType = cbor ? "application/senml+cbor" : "application/senml+json";
        this.timer = timer;
    }

    /** Connects, and goes on trying until closed. */
    public synchronized void start() {
        wanted = true;
        if (client == null && !retryPlanned) {
            connect();
        }
    }

    /** Sends readings, oldest first; done when these and all before them have their receipts. */
    public synchronized CompletableFuture<Void> publish(List<Reading> readings) {
        for (int from = 0; from < readings.size(); from += RECORDS_PER_PACK) {
            store.add(encoder.encode(
                    new ArrayList<>(readings.subList(from, Math.min(readings.size(), from + RECORDS_PER_PACK)))));
        }
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
        MqttAsyncClient old = client;
        client = null;
        if (old != null) {
            // Elsewhere: the library waits there for its callback, which may be waiting for us.
            timer.execute(() -> dispose(old));
        }
    }

    private void dispose(MqttAsyncClient old) {
        try {
            old.disconnectForcibly(0, 0, false);
            old.close(true);
        } catch (MqttException e) {
            LOG.debug("{}: giving up a connection", id, e);
        }
    }

    /** Packs without a receipt. */
    public synchronized int waiting() {
        return store.size();
    }

    private void connect() {
        int mine = ++epoch;
        try {
            MqttAsyncClient next = new MqttAsyncClient(serverUri, id, new MemoryPersistence());
            next.setCallback(new Connection(this, mine));
            client = next;
            var unused = next.connect(
                    session.options(), null, listener(mine, token -> connected(mine, token), this::connectFailed));
        } catch (MqttException e) {
            connectFailed(e);
        }
    }

    private void connected(int mine, IMqttToken token) {
        if (mine != epoch) {
            return;
        }
        window = Session.window(token);
        ready = true;
        retry = FIRST_RETRY;
        store.sendAgain();
        publish(session.presenceTopic(), Session.presence("online"), mine, 0);
        sendWaiting();
    }

    private void connectFailed(Throwable reason) {
        LOG.debug("{}: no connection: {}", id, reason.toString());
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
        for (PackStore.Numbered pack : store.toSend(window)) {
            MqttProperties properties = new MqttProperties();
            properties.setContentType(contentType);
            properties.setUserProperties(
                    List.of(new UserProperty("boot", boot), new UserProperty("seq", Long.toString(pack.seq()))));
            publish(topic, new MqttMessage(pack.payload(), 1, false, properties), epoch, pack.seq());
        }
    }

    private void publish(String to, MqttMessage message, int mine, long seq) {
        MqttAsyncClient current = client;
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
        store.acknowledged(seq);
        sendWaiting();
        tellWaiters();
    }

    private void tellWaiters() {
        while (!waiters.isEmpty() && store.isCovered(waiters.peek().seq())) {
            waiters.poll().done().complete(null);
        }
    }

    private MqttActionListener listener(
            int mine, java.util.function.Consumer<IMqttToken> good, java.util.function.Consumer<Throwable> bad) {
        return new MqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
                synchronized (SimulatedGateway.this) {
                    good.accept(token);
                }
            }

            @Override
            public void onFailure(IMqttToken token, Throwable reason) {
                synchronized (SimulatedGateway.this) {
                    if (mine == epoch) {
                        bad.accept(reason);
                    }
                }
            }
        };
    }

    /** Says goodbye and disconnects; what waits stays unsent. */
    @Override
    public void close() {
        MqttAsyncClient last;
        boolean polite;
        synchronized (this) {
            closed = true;
            polite = ready;
            last = client;
            client = null;
            ready = false;
            epoch++;
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
        dispose(last);
    }
}
