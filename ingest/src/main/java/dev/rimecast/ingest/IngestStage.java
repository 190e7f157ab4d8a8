package dev.rimecast.ingest;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.broker.BrokerSubscriber;
import dev.rimecast.ingest.disk.DiskGuard;
import dev.rimecast.ingest.disk.GuardedStore;
import dev.rimecast.ingest.intake.CountedStore;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.IntakeCounters;
import dev.rimecast.ingest.kafka.AckFeed;
import dev.rimecast.ingest.kafka.CredentialsView;
import dev.rimecast.ingest.kafka.LaidAside;
import dev.rimecast.ingest.kafka.LogWriter;
import dev.rimecast.ingest.kafka.RegistryView;
import dev.rimecast.ingest.kafka.RejectId;
import dev.rimecast.ingest.kafka.RejectReplay;
import dev.rimecast.ingest.kafka.TickRota;
import dev.rimecast.ingest.kafka.Ticker;
import dev.rimecast.ingest.kafka.UnclaimedReplay;
import dev.rimecast.ingest.mqtt.Desk;
import dev.rimecast.ingest.mqtt.Gatekeeper;
import dev.rimecast.ingest.mqtt.GatewayEndpoint;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.machine.Register;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The whole of ingest: gateways in over MQTT, at our own endpoint or through a broker, sites' logs out to Kafka. A wrong setting fails the start; a Kafka that
 * does not answer is a state of health: gateways are turned away or held back until it does. The topics must be there
 * or come: ingest creates none.
 */
public final class IngestStage implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(IngestStage.class);
    /** How often the clock is looked at, real time; short, since a demo's clock may run thousands of times faster. */
    private static final Duration TICK_POLL = Duration.ofMillis(20);

    private static final Duration DISK_LOOK = Duration.ofSeconds(1);

    private final LogWriter writer;
    private final RegistryView registry;
    private final CredentialsView credentials;
    private final Gatekeeper gatekeeper;
    private final LastAcks acks = new LastAcks();
    private final AckFeed ackFeed;
    private final Optional<GatewayEndpoint> endpoint;
    private final Optional<BrokerSubscriber> broker;
    private final Optional<TickRota> rota;
    private final Ticker ticker;
    private final DiskGuard guard;
    private final ScheduledExecutorService tickThread;
    /** The register and the keys. */
    private final CountDownLatch ready = new CountDownLatch(2);

    private final Claims claims;
    private final LaidAside laidAside;
    private final RejectReplay replays;
    private final ReplayCounters replayCounters;
    private final InstantSource clock;

    private IngestStage(IngestSettings settings, InstantSource clock, MeterRegistry meters) {
        writer = LogWriter.start(
                settings.kafka(), settings.deliveryTimeout(), settings.maxPacksInFlight(), settings.maxBytesInFlight());
        UnclaimedReplay replay = new UnclaimedReplay(settings.kafka(), writer);
        laidAside = new LaidAside(settings.kafka());
        claims = new Claims(replay, this::settleDecisions);
        Desk desk = new Desk(new Intake(new SenmlDecoder()), claims::inForce, clock);
        replays = new RejectReplay(settings.kafka(), desk::again);
        replayCounters = new ReplayCounters(meters);
        this.clock = clock;
        gatekeeper = Gatekeeper.waiting(InstantSource.system());
        guard = settings.disk();
        CountedStore store = new CountedStore(new GuardedStore(writer, guard), new IntakeCounters(meters));
        try {
            endpoint = settings.hasEndpoint()
                    ? Optional.of(GatewayEndpoint.start(
                            settings.doors(), desk, store, acks, gatekeeper, settings.connections()))
                    : Optional.empty();
        } catch (RuntimeException e) {
            writer.close();
            throw e;
        }
        broker = settings.broker()
                .map(outside -> BrokerSubscriber.start(outside, desk, store, acks, gatekeeper, meters));
        registry = new RegistryView(settings.kafka(), this::onRegister);
        credentials = new CredentialsView(settings.kafka(), this::onKeys);
        ackFeed = new AckFeed(settings.kafka(), this::onAck);
        rota = settings.isOneOfSeveral() ? Optional.of(new TickRota(settings.kafka())) : Optional.empty();
        ticker = new Ticker(
                writer,
                guard::isClosed,
                clock,
                partition -> rota.map(those -> those.test(partition)).orElse(true));
        tickThread = Executors.newSingleThreadScheduledExecutor(task -> {
            Thread thread = new Thread(task, "ingest-ticker");
            thread.setDaemon(true);
            return thread;
        });
        gauges(new IngestGauges(meters, this));
    }

    private void gauges(IngestGauges gauges) {
        gauges.writer(writer);
        gauges.connections(
                of -> endpoint.map(GatewayEndpoint::connections).orElse(0),
                of -> endpoint.map(GatewayEndpoint::refusals).orElse(0L),
                of -> endpoint.map(GatewayEndpoint::overLimit).orElse(0L));
        gauges.disk(guard);
        gauges.broker(broker.map(there -> there::health));
        gauges.register(claims::inForce);
    }

    /**
     * Starts; does not wait for Kafka.
     *
     * @param clock says what "now" is: for receipt stamps, the check of future times, and ticks
     * @throws IllegalArgumentException if a setting is wrong
     * @throws IllegalStateException if the port can't be had
     */
    public static IngestStage start(IngestSettings settings, InstantSource clock, MeterRegistry meters) {
        IngestStage stage = new IngestStage(settings, clock, meters);
        stage.registry.start();
        stage.credentials.start();
        stage.ackFeed.start();
        stage.rota.ifPresent(TickRota::start);
        settings.disk().look();
        var looks = stage.tickThread.scheduleWithFixedDelay(
                settings.disk()::look, DISK_LOOK.toMillis(), DISK_LOOK.toMillis(), TimeUnit.MILLISECONDS);
        var unused = stage.tickThread.scheduleWithFixedDelay(
                stage::tick, TICK_POLL.toMillis(), TICK_POLL.toMillis(), TimeUnit.MILLISECONDS);
        return stage;
    }

    /**
     * Waits until gateways are let in.
     *
     * @return whether they are
     */
    public boolean awaitReady(Duration timeout) throws InterruptedException {
        return ready.await(timeout.toMillis(), TimeUnit.MILLISECONDS);
    }

    /** Every port that gateways connect to, the one in the clear first; none where only a broker is subscribed to. */
    public List<Integer> mqttPorts() {
        return endpoint.map(GatewayEndpoint::ports).orElse(List.of());
    }

    /**
     * The port that gateways connect to in the clear, or the only one.
     *
     * @throws java.util.NoSuchElementException if they can't, because only a broker is subscribed to
     */
    public int mqttPort() {
        return endpoint.orElseThrow().port();
    }

    public IngestHealth health() {
        return new IngestHealth(
                claims.inForce().isPresent() && gatekeeper.isOpen(),
                endpoint.map(GatewayEndpoint::connections).orElse(0),
                writer.messagesInFlight(),
                writer.bytesInFlight(),
                writer.isFull(),
                broker.map(BrokerSubscriber::health),
                guard.problem(),
                endpoint.flatMap(GatewayEndpoint::certificateProblem),
                writer.stalledFor());
    }

    /** Whether every thread still runs; one that has ended takes a restart of the process. */
    public boolean isAlive() {
        return writer.isAlive()
                && registry.isAlive()
                && credentials.isAlive()
                && ackFeed.isAlive()
                && rota.map(TickRota::isAlive).orElse(true)
                && !tickThread.isTerminated();
    }

    /** What was rejected, newest first. */
    public List<LaidAside.Rejected> rejects(int most) {
        return laidAside.rejects(most);
    }

    /**
     * Has a rejected message taken again, after a mend.
     *
     * @param by who asks for it
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer: nothing was taken
     */
    public RejectReplay.Outcome replayReject(RejectId id, String by) {
        RejectReplay.Outcome outcome = replays.replay(id, by, clock.instant());
        replayCounters.count(outcome);
        return outcome;
    }

    /** Machines whose readings wait for a row in the register. */
    public List<LaidAside.Unclaimed> unclaimed() {
        return laidAside.unclaimed(claims.inForce().orElse(Register.EMPTY));
    }

    private void onKeys(Map<String, List<GatewayKey>> ofGateways) {
        boolean isFirst = !gatekeeper.isOpen();
        gatekeeper.inForce(ofGateways);
        endpoint.ifPresent(GatewayEndpoint::keysChanged);
        if (isFirst) {
            ready.countDown();
        }
        log.info("keys: {} gateways must show one", ofGateways.size());
    }

    private void onRegister(Register changed) {
        boolean isFirst = claims.inForce().isEmpty();
        claims.accept(changed);
        if (isFirst) {
            ready.countDown();
        }
        log.info(
                "register: {} machines on {} sites",
                changed.machines().size(),
                changed.sites().size());
    }

    private void onAck(GatewayAck ack) {
        acks.note(ack);
        endpoint.ifPresent(there -> there.tell(ack));
        broker.ifPresent(there -> there.tell(ack));
    }

    private void settleDecisions() {
        endpoint.ifPresent(GatewayEndpoint::settle);
        broker.ifPresent(BrokerSubscriber::settle);
    }

    private void tick() {
        try {
            ticker.tickIfDue();
        } catch (RuntimeException e) {
            log.error("no tick could be written", e);
        }
    }

    /** Turns gateways away, gives what is under way a few seconds, and stops. */
    @Override
    public void close() {
        tickThread.shutdownNow();
        endpoint.ifPresent(GatewayEndpoint::turnAway);
        broker.ifPresent(BrokerSubscriber::turnAway);
        registry.close();
        credentials.close();
        ackFeed.close();
        rota.ifPresent(TickRota::close);
        writer.close();
        endpoint.ifPresent(GatewayEndpoint::close);
        broker.ifPresent(BrokerSubscriber::close);
    }
}
