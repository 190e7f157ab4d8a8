package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Store;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.net.TlsPair;
import dev.rimecast.telemetry.net.TlsWatch;
import io.netty.handler.codec.mqtt.MqttConnectReturnCode;
import io.netty.handler.codec.mqtt.MqttVersion;
import io.vertx.core.Context;
import io.vertx.core.Future;
import io.vertx.core.Vertx;
import io.vertx.core.VertxOptions;
import io.vertx.core.file.FileSystemOptions;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.messages.codes.MqttDisconnectReasonCode;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Where gateways connect: MQTT 3.1.1 and MQTT 5, not a broker. A receipt means that Kafka has what the message caused.
 * When Kafka is slow or away, nothing is read until it has caught up; nothing is dropped and nothing is acknowledged
 * early. All connections share one event loop; a connection's state is touched by no other thread.
 */
public final class GatewayEndpoint implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(GatewayEndpoint.class);
    private static final long STOP_TIMEOUT_SECONDS = 10;
    /** A key may end by itself while its connection is open. */
    private static final long LOOK_AT_ENDS_MILLIS = 30_000;

    private final Desk desk;
    private final Store store;
    private final AckBoard acks;
    private final double packsPerSecond;
    private final double burstPacks;
    private final Vertx vertx;
    private final Context loop;
    private final LoopTasks tasks;
    private final Gatekeeper gatekeeper;
    private final CountedDoors counted;
    private final Crowd crowd;
    private final List<Door> doors;
    private final Map<Client, GatewayConnection> byClient = new HashMap<>();
    private final Map<Client, Long> wills = new HashMap<>();
    /** Of gateways that have shown a key: however many connections they have. */
    private final Map<String, RateLimit> rates = new HashMap<>();

    private final AtomicLong refusals = new AtomicLong();
    private volatile int connections;
    /** Reads files, for which the event loop must not wait. */
    private final ScheduledExecutorService certificates = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "ingest-certificates");
        thread.setDaemon(true);
        return thread;
    });

    private boolean closing;

    /**
     * Whose session it is. A client identifier is the client's own choice: without the gateway that it has shown to be, anybody
     * could end the connection of another.
     */
    private record Client(Optional<String> gateway, String id) {}

    private GatewayEndpoint(
            Desk desk,
            Store store,
            LastAcks acks,
            Gatekeeper gatekeeper,
            List<Listen> listens,
            List<Optional<TlsPair>> pairs,
            ConnectionLimits limits) {
        this.desk = desk;
        this.counted = new CountedDoors(limits.perAddress());
        this.crowd = new Crowd(limits.perGateway());
        this.gatekeeper = gatekeeper;
        this.store = store;
        this.acks = new AckBoard(acks);
        this.packsPerSecond = listens.get(0).packsPerSecond();
        this.burstPacks = listens.get(0).burstPacks();
        this.vertx = Vertx.builder()
                .with(new VertxOptions()
                        .setEventLoopPoolSize(1)
                        .setWorkerPoolSize(1)
                        .setInternalBlockingPoolSize(1)
                        .setFileSystemOptions(new FileSystemOptions()
                                .setFileCachingEnabled(false)
                                .setClassPathResolvingEnabled(false)))
                .withTransport(counted)
                .build();
        this.loop = vertx.getOrCreateContext();
        this.tasks = new LoopTasks(loop);
        this.doors = IntStream.range(0, listens.size())
                .mapToObj(i -> new Door(vertx, listens.get(i), pairs.get(i), this::onConnect))
                .toList();
        vertx.setPeriodic(LOOK_AT_ENDS_MILLIS, unused -> loop.runOnContext(now -> closeStrangers()));
        store.onRoom(() -> loop.runOnContext(unused -> byClient.values().forEach(GatewayConnection::setValve)));
    }

    /** With the usual numbers of connections. */
    static GatewayEndpoint start(List<Listen> listens, Desk desk, Store store, LastAcks acks, Gatekeeper gatekeeper) {
        return start(listens, desk, store, acks, gatekeeper, ConnectionLimits.STANDARD);
    }

    /**
     * Begins to listen.
     *
     * @param listens at least one
     * @param desk as long as it is not open, gateways are turned away, and come again
     * @param acks what a gateway is told when it begins to listen; what comes later, by {@link #tell}
     * @param gatekeeper likewise
     * @throws IllegalArgumentException if an address in the clear is not a loopback address, or a certificate or key can't be read
     * @throws IllegalStateException if a port can't be had
     */
    public static GatewayEndpoint start(
            List<Listen> listens,
            Desk desk,
            Store store,
            LastAcks acks,
            Gatekeeper gatekeeper,
            ConnectionLimits limits) {
        SocketValve.check();
        listens.forEach(Listen::requireLoopbackInTheClear);
        List<Optional<TlsPair>> pairs = listens.stream().map(Doors::pair).toList();
        GatewayEndpoint endpoint = new GatewayEndpoint(desk, store, acks, gatekeeper, listens, pairs, limits);
        for (Door door : endpoint.doors) {
            Listen listen = door.listen();
            try {
                endpoint.onLoop(() -> door.open().toCompletionStage().toCompletableFuture());
            } catch (IllegalStateException e) {
                endpoint.turnAway();
                endpoint.stopVertx();
                throw new IllegalStateException(
                        "MQTT can't listen on " + listen.host() + " port " + listen.port() + ": " + e.getMessage(), e);
            }
            log.info(
                    "MQTT{} on {} port {}",
                    listen.tls().isPresent() ? " over TLS" : ", without credentials,",
                    listen.host(),
                    door.port());
        }
        endpoint.watchCertificates();
        return endpoint;
    }

    private void watchCertificates() {
        if (doors.stream().anyMatch(Door::isEncrypted)) {
            var unused = certificates.scheduleWithFixedDelay(
                    this::lookAtCertificates,
                    TlsWatch.EVERY.toMillis(),
                    TlsWatch.EVERY.toMillis(),
                    TimeUnit.MILLISECONDS);
        }
    }

    /** Shows certificates that have been renewed from now on; it does so by itself, too, every {@link TlsWatch#EVERY}. */
    void lookAtCertificates() {
        doors.forEach(Door::lookAtCertificate);
    }

    /** Why a certificate that is shown is not the one in its file; empty: it is. */
    public Optional<String> certificateProblem() {
        return doors.stream()
                .flatMap(door -> door.certificateProblem().stream())
                .findFirst();
    }

    /** The ports that gateways connect to, in the order of what was asked for. */
    public List<Integer> ports() {
        return doors.stream().map(door -> door.port()).toList();
    }

    /** The first of {@link #ports()}. */
    public int port() {
        return ports().get(0);
    }

    /** The keys have changed: who would not be let in any more goes. */
    public void keysChanged() {
        loop.runOnContext(unused -> closeStrangers());
    }

    private void closeStrangers() {
        List.copyOf(byClient.values()).stream()
                .filter(connection -> !connection.isStillIn(gatekeeper))
                .forEach(connection -> {
                    log.info("a gateway is disconnected: its key has ended");
                    connection.close(MqttDisconnectReasonCode.NOT_AUTHORIZED);
                });
    }

    /** Gateways connected now. */
    public int connections() {
        return connections;
    }

    /** Connections that showed no key, or a wrong one, since the start. */
    public long refusals() {
        return refusals.get();
    }

    /** Connections that were ended because there were too many of their address or of their gateway, since the start. */
    public long overLimit() {
        return counted.turnedAway() + crowd.ended();
    }

    /** Addresses that have a connection now, whether or not it has said CONNECT. */
    int addresses() {
        return counted.addresses();
    }

    /** Tells the gateway how far its packs are stored, if it listens. */
    public void tell(GatewayAck ack) {
        loop.runOnContext(unused -> acks.tell(ack));
    }

    /** Returns when every message read so far has been decided on and handed to the store. */
    public void settle() {
        onLoop(() -> CompletableFuture.completedFuture(null));
    }

    private void onConnect(MqttEndpoint endpoint) {
        boolean is5 = endpoint.protocolVersion() >= MqttVersion.MQTT_5.protocolLevel();
        if (endpoint.protocolVersion() < MqttVersion.MQTT_3_1_1.protocolLevel()) {
            endpoint.reject(MqttConnectReturnCode.CONNECTION_REFUSED_UNACCEPTABLE_PROTOCOL_VERSION);
            return;
        }
        if (closing || !desk.isOpen() || !gatekeeper.isOpen()) {
            endpoint.reject(
                    is5
                            ? MqttConnectReturnCode.CONNECTION_REFUSED_SERVER_UNAVAILABLE_5
                            : MqttConnectReturnCode.CONNECTION_REFUSED_SERVER_UNAVAILABLE);
            return;
        }
        Gatekeeper.Verdict verdict = gatekeeper.judge(Doors.shown(endpoint));
        if (verdict instanceof Gatekeeper.Verdict.LetIn letIn) {
            enter(endpoint, letIn, is5);
        } else if (verdict instanceof Gatekeeper.Verdict.Refused refused) {
            log.info("a connection from {} is refused: {}", endpoint.remoteAddress(), refused.why());
            refusals.incrementAndGet();
            endpoint.reject(
                    is5
                            ? MqttConnectReturnCode.CONNECTION_REFUSED_BAD_USERNAME_OR_PASSWORD
                            : MqttConnectReturnCode.CONNECTION_REFUSED_BAD_USER_NAME_OR_PASSWORD);
        }
    }

    private void enter(MqttEndpoint endpoint, Gatekeeper.Verdict.LetIn letIn, boolean is5) {
        Identity identity = letIn.identity();
        Optional<String> proved = identity.gateway();
        Optional<Will> will;
        try {
            will = Will.of(endpoint.will(), identity);
        } catch (Will.NotAllowed e) {
            log.info("a connection is refused: {}", e.getMessage());
            endpoint.reject(
                    is5
                            ? MqttConnectReturnCode.CONNECTION_REFUSED_TOPIC_NAME_INVALID
                            : MqttConnectReturnCode.CONNECTION_REFUSED_NOT_AUTHORIZED);
            return;
        }
        Client client = new Client(proved, endpoint.clientIdentifier());
        RateLimit rate = proved.map(gateway -> rates.computeIfAbsent(gateway, any -> newRate()))
                .orElseGet(this::newRate);
        GatewayConnection connection =
                new GatewayConnection(endpoint, tasks, desk, store, rate, identity, letIn.key(), will, acks, crowd);
        endpoint.closeHandler(unused -> {
            connection.isOver();
            onClosed(client, connection);
        });
        takeOver(client, connection);
        connection.open();
    }

    private RateLimit newRate() {
        return new RateLimit(packsPerSecond, burstPacks, System.nanoTime());
    }

    /** The newer connection of a client wins (section 3.1.4); the gateway is still there, so no will is heard. */
    private void takeOver(Client client, GatewayConnection connection) {
        GatewayConnection older = byClient.put(client, connection);
        connections = byClient.size();
        if (older != null) {
            log.info("a client connected twice; the older connection is closed");
            older.close(MqttDisconnectReasonCode.SESSION_TAKEN_OVER);
        }
        Long pending = wills.remove(client);
        if (pending != null) {
            vertx.cancelTimer(pending);
        }
    }

    private void onClosed(Client client, GatewayConnection connection) {
        if (!byClient.remove(client, connection)) {
            return;
        }
        connections = byClient.size();
        if (closing) {
            // It is we who go; that says nothing about the gateway.
            return;
        }
        connection.willLeft().ifPresent(will -> {
            if (will.delay().isZero()) {
                record(will);
            } else {
                wills.put(client, vertx.setTimer(will.delay().toMillis(), unused -> {
                    wills.remove(client);
                    record(will);
                }));
            }
        });
    }

    private void record(Will will) {
        store.store(desk.lost(will.gateway()), isStored -> {
            if (!isStored) {
                log.warn("that gateway {} is gone could not be stored", will.gateway());
            }
        });
    }

    /** Lets nobody in any more and closes all connections. What has no receipt by now gets none. */
    public void turnAway() {
        try {
            onLoop(() -> {
                closing = true;
                wills.values().forEach(vertx::cancelTimer);
                byClient.values().forEach(c -> c.close(MqttDisconnectReasonCode.SERVER_SHUTTING_DOWN));
                return Future.join(doors.stream().map(door -> door.close()).toList())
                        .toCompletionStage()
                        .toCompletableFuture();
            });
        } catch (IllegalStateException e) {
            log.warn("MQTT did not close cleanly: {}", e.toString());
        }
    }

    /** Ends the event loop; after {@link #turnAway()}, and after the store, whose answers still come to the loop. */
    @Override
    public void close() {
        stopVertx();
    }

    private void stopVertx() {
        certificates.shutdownNow();
        var unused = vertx.close();
    }

    private void onLoop(Supplier<CompletableFuture<?>> action) {
        CompletableFuture<Void> done = new CompletableFuture<>();
        loop.runOnContext(start -> {
            var unused = action.get().whenComplete((value, problem) -> {
                if (problem == null) {
                    done.complete(null);
                } else {
                    done.completeExceptionally(problem);
                }
            });
        });
        try {
            done.get(STOP_TIMEOUT_SECONDS, TimeUnit.SECONDS);
        } catch (ExecutionException | CompletionException | TimeoutException e) {
            throw new IllegalStateException(String.valueOf(e.getMessage()), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        }
    }
}
