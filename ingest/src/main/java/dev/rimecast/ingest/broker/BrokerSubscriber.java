package dev.rimecast.ingest.broker;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Store;
import dev.rimecast.ingest.mqtt.Desk;
import dev.rimecast.ingest.mqtt.Gatekeeper;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Takes what gateways published to a broker. A message is acknowledged when Kafka has what it caused, in the order in
 * which the messages came, and only on the connection on which it came. When Kafka is slow or away nothing is
 * acknowledged, and the broker stops at the receive maximum that we announced; nothing here ever waits in a callback.
 *
 * <p>The topic's gateway is the identity of the sender: who may publish where is for the broker to guard. That it does so, a
 * setting says; without it nothing is taken in here for a gateway that has keys, or had: no key comes through a broker.
 *
 * <p>One gateway that brings too much is neither waited for, since that would keep all others waiting, nor taken in: {@link Allowances}.
 *
 * <p>The line is ours to mend: a connection that can't be made, or ends, is tried again with growing waits, the first
 * one included. There is a new one only when nothing of the last is under way to Kafka any more: the broker sends again
 * what was not acknowledged, and a line that flaps while Kafka is away would otherwise pile up copies.
 *
 * <p>All state belongs to one thread, the loop.
 */
public final class BrokerSubscriber implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(BrokerSubscriber.class);
    private static final Duration FIRST_WAIT = Duration.ofMillis(500);
    private static final Duration LONGEST_WAIT = Duration.ofSeconds(30);

    private final Desk desk;
    private final Store store;
    private final Line.Opener opener;
    private final BrokerTimes times;
    private final LastAcks acks;
    private final Gatekeeper gatekeeper;
    private final boolean trustsTopics;
    private final AckPublisher publisher = new AckPublisher();
    private final BrokerCounters counters;
    private final Allowances allowances;
    private final String where;
    private final String clientId;
    private final int receiveMaximum;
    private final Loop loop = new Loop("ingest-broker");
    private final Receipts receipts = new Receipts();
    private final Backoff backoff;
    /** Messages that came and wait for the loop; counted so that QoS 0, which no window holds back, is bounded. */
    private final AtomicInteger waiting = new AtomicInteger();

    private Optional<Line> line = Optional.empty();
    private int underWay;
    private boolean closing;
    /** Whether the connection, if there is one, has lasted; one that has not may be taken away by a namesake. */
    private boolean hasHeld;

    private volatile BrokerHealth health;

    BrokerSubscriber(
            BrokerSettings settings,
            Desk desk,
            Store store,
            LastAcks acks,
            Gatekeeper gatekeeper,
            Line.Opener opener,
            BrokerTimes times,
            LongSupplier nanos,
            MeterRegistry meters) {
        this.desk = desk;
        this.store = store;
        this.acks = acks;
        this.gatekeeper = gatekeeper;
        this.trustsTopics = settings.trustsTopics();
        this.opener = opener;
        this.times = times;
        this.counters = new BrokerCounters(meters);
        this.allowances = new Allowances(settings.limits(), acks::of, nanos);
        this.where = settings.url();
        this.clientId = settings.clientId();
        this.receiveMaximum = settings.receiveMaximum();
        this.backoff = new Backoff(
                times.firstWait(),
                times.longestWait(),
                () -> ThreadLocalRandom.current().nextDouble());
        this.health = new BrokerHealth(false, "not connected to the MQTT broker " + where + " yet");
    }

    /** Starts; does not wait for the broker. */
    public static BrokerSubscriber start(
            BrokerSettings settings,
            Desk desk,
            Store store,
            LastAcks acks,
            Gatekeeper gatekeeper,
            MeterRegistry meters) {
        BrokerTimes times = new BrokerTimes(
                FIRST_WAIT, LONGEST_WAIT, Duration.ofMillis(100), Duration.ofSeconds(20), Duration.ofSeconds(10));
        BrokerSubscriber subscriber = new BrokerSubscriber(
                settings,
                desk,
                store,
                acks,
                gatekeeper,
                listener -> PahoLine.open(settings, listener),
                times,
                System::nanoTime,
                meters);
        subscriber.start();
        return subscriber;
    }

    void start() {
        loop.run(this::connect);
    }

    /** Whether the broker is there. */
    public BrokerHealth health() {
        return health;
    }

    /** Returns when every message that has come so far has been decided on and handed to the store. */
    public void settle() {
        loop.settle();
    }

    /** Tells a gateway behind the broker how far its packs are stored; nothing while the broker is away. */
    public void tell(GatewayAck ack) {
        loop.run(() -> tell(ack.gateway(), ack.upTo()));
    }

    private void tell(String gateway, PackNumber upTo) {
        if (!health.isConnected() || line.isEmpty() || !gatekeeper.letsInBehindABroker(gateway, trustsTopics)) {
            return;
        }
        long epoch = receipts.now();
        Line current = line.get();
        publisher.tell(
                gateway,
                upTo,
                (topic, payload, done) -> current.publish(
                        topic,
                        payload,
                        () -> loop.run(() -> {
                            if (receipts.isNow(epoch)) {
                                done.run();
                            }
                        })));
    }

    private void connect() {
        if (closing || line.isPresent()) {
            return;
        }
        if (!desk.isOpen()) {
            away("is not asked yet: the register has not been read");
            loop.after(times.poll(), this::connect);
            return;
        }
        if (!gatekeeper.isOpen()) {
            away("is not asked yet: the keys of gateways have not been read");
            loop.after(times.poll(), this::connect);
            return;
        }
        if (store.isClosed()) {
            away("is left alone and keeps the packs: nothing is taken in now");
            loop.after(times.poll(), this::connect);
            return;
        }
        if (underWay > 0) {
            away("is not asked again yet: Kafka has not confirmed " + underWay + " packs of the last connection");
            loop.after(times.poll(), this::connect);
            return;
        }
        long epoch = receipts.begin(packetId -> line.ifPresent(l -> l.acknowledge(packetId)));
        line = Optional.of(opener.open(new OfEpoch(epoch)));
        loop.after(times.connectLimit(), () -> {
            if (receipts.isNow(epoch) && !health.isConnected()) {
                lost(epoch, "is away: no answer within " + times.connectLimit().toSeconds() + " s");
            }
        });
    }

    /** What one connection tells, brought to the loop. */
    private final class OfEpoch implements Line.Listener {
        private final long epoch;

        OfEpoch(long epoch) {
            this.epoch = epoch;
        }

        @Override
        public void up(boolean isSessionPresent) {
            loop.run(() -> connected(epoch, isSessionPresent));
        }

        @Override
        public void arrived(Line.Arrival arrival) {
            if (arrival.qos() == 0 && (store.isFull() || waiting.get() >= receiveMaximum)) {
                counters.dropped();
                return;
            }
            waiting.incrementAndGet();
            loop.run(() -> {
                waiting.decrementAndGet();
                take(epoch, arrival);
            });
        }

        @Override
        public void down(String reason) {
            loop.run(() -> lost(epoch, "is away: " + reason + hint()));
        }
    }

    private void connected(long epoch, boolean isSessionPresent) {
        if (!receipts.isNow(epoch)) {
            return;
        }
        counters.connected(isSessionPresent);
        hasHeld = false;
        health = new BrokerHealth(true, "connected to the MQTT broker " + where);
        log.info(
                "subscribed at the MQTT broker {}, {}",
                where,
                isSessionPresent ? "which kept our session" : "in a new session");
        loop.after(times.holds(), () -> {
            if (receipts.isNow(epoch)) {
                hasHeld = true;
                backoff.reset();
            }
        });
    }

    private void lost(long epoch, String what) {
        if (!receipts.isNow(epoch)) {
            return;
        }
        receipts.end();
        publisher.forget();
        line.ifPresent(Line::drop);
        line = Optional.empty();
        if (closing) {
            return;
        }
        Duration wait = backoff.next();
        log.warn("the MQTT broker {} {}; next attempt to connect in {} ms", where, what, wait.toMillis());
        away(what);
        loop.after(wait, this::connect);
    }

    /** Some brokers don't tell a client that another one has taken its name: they only end its connection. */
    private String hint() {
        return health.isConnected() && !hasHeld
                ? "; it ended soon after it was made: is another client connected as '" + clientId + "'?"
                : "";
    }

    private void away(String what) {
        health = new BrokerHealth(false, "the MQTT broker " + where + " " + what);
    }

    private void take(long epoch, Line.Arrival arrival) {
        // What a connection that is gone still brings, the broker sends again on the next.
        if (closing || !receipts.isNow(epoch)) {
            return;
        }
        Desk.comesOnline(arrival.topic(), arrival.payload())
                .ifPresent(gateway -> acks.of(gateway).ifPresent(upTo -> tell(gateway, upTo)));
        if (store.isClosed()) {
            lost(epoch, "is left alone and keeps the packs: nothing is taken in now");
            return;
        }
        Optional<Decision> decided = decide(arrival);
        if (decided.isEmpty()) {
            counters.letGo();
            if (arrival.qos() > 0) {
                receipts.settle(receipts.owe(arrival.packetId()));
            }
            return;
        }
        Decision decision = decided.get();
        if (arrival.qos() == 0) {
            store.store(decision, isStored -> {});
            return;
        }
        Receipts.Owed owed = receipts.owe(arrival.packetId());
        underWay++;
        store.store(decision, isStored -> loop.run(() -> answered(owed, isStored)));
    }

    /** What a message causes; nothing where its gateway has brought too much for even a reject of it to be kept. */
    private Optional<Decision> decide(Line.Arrival arrival) {
        Allowances.Verdict verdict = allowances.judge(
                desk.registeredSender(arrival.topic()), arrival.number().number(), arrival.payload().length);
        return switch (verdict) {
            case TAKE ->
                Optional.of(desk.rule(
                                arrival.topic(),
                                arrival.payload(),
                                arrival.number(),
                                gatekeeper.behindABroker(trustsTopics))
                        .decision());
            case REJECT ->
                Optional.of(desk.tooMany(
                        arrival.topic(), arrival.payload(), arrival.number(), gatekeeper.behindABroker(trustsTopics)));
            case LET_GO -> Optional.empty();
        };
    }

    private void answered(Receipts.Owed owed, boolean isStored) {
        underWay--;
        if (!isStored) {
            lost(owed.epoch(), "is to send again what Kafka did not confirm");
        } else if (!receipts.settle(owed)) {
            counters.receiptWasLate();
        }
    }

    /** Takes nothing more. What is under way is still acknowledged when it is stored, until {@link #close()}. */
    public void turnAway() {
        loop.run(() -> closing = true);
        loop.settle();
    }

    /** Ends the connection; the broker keeps the session. After {@link #turnAway()} and the store. */
    @Override
    public void close() {
        loop.run(() -> {
            closing = true;
            receipts.end();
            line.ifPresent(Line::leave);
            line = Optional.empty();
        });
        loop.close();
    }
}
