package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Store;
import dev.rimecast.telemetry.ack.GatewayAck;
import io.netty.handler.codec.mqtt.MqttConnectReturnCode;
import io.netty.handler.codec.mqtt.MqttVersion;
import io.vertx.core.Context;
import io.vertx.core.Vertx;
import io.vertx.core.VertxOptions;
import io.vertx.core.file.FileSystemOptions;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.MqttServer;
import io.vertx.mqtt.MqttServerOptions;
import io.vertx.mqtt.messages.codes.MqttDisconnectReasonCode;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
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

    private final Desk desk;
    private final Store store;
    private final AckBoard acks;
    private final double packsPerSecond;
    private final double burstPacks;
    private final Vertx vertx;
    private final Context loop;
    private final MqttServer server;
    private final Map<String, GatewayConnection> byClientId = new HashMap<>();
    private final Map<String, Long> wills = new HashMap<>();
    private volatile int connections;
    private boolean closing;

    private GatewayEndpoint(Desk desk, Store store, LastAcks acks, Listen listen) {
        this.desk = desk;
        this.store = store;
        this.acks = new AckBoard(acks);
        this.packsPerSecond = listen.packsPerSecond();
        this.burstPacks = listen.burstPacks();
        this.vertx = Vertx.vertx(new VertxOptions()
                .setEventLoopPoolSize(1)
                .setWorkerPoolSize(1)
                .setInternalBlockingPoolSize(1)
                .setFileSystemOptions(
                        new FileSystemOptions().setFileCachingEnabled(false).setClassPathResolvingEnabled(false)));
        this.loop = vertx.getOrCreateContext();
        this.server = MqttServer.create(
                        vertx,
                        new MqttServerOptions()
                                .setHost(listen.host())
                                .setPort(listen.port())
                                .setMaxMessageSize(Limits.MAX_PACKET_BYTES)
                                .setTimeoutOnConnect(Limits.CONNECT_TIMEOUT_SECONDS)
                                .setMaxClientIdLength(128)
                                .setAutoClientId(true))
                .endpointHandler(this::onConnect)
                .exceptionHandler(problem -> log.debug("refused: {}", problem.toString()));
        store.onRoom(() -> loop.runOnContext(unused -> byClientId.values().forEach(GatewayConnection::setValve)));
    }

    /**
     * Begins to listen.
     *
     * @param desk as long as it is not open, gateways are turned away, and come again
     * @param acks what a gateway is told when it begins to listen; what comes later, by {@link #tell}
     * @throws IllegalArgumentException if the address is not a loopback address
     * @throws IllegalStateException if the port can't be had
     */
    public static GatewayEndpoint start(Listen listen, Desk desk, Store store, LastAcks acks) {
        SocketValve.check();
        listen.requireLoopback();
        GatewayEndpoint endpoint = new GatewayEndpoint(desk, store, acks, listen);
        try {
            endpoint.onLoop(() -> endpoint.server.listen().toCompletionStage().toCompletableFuture());
        } catch (IllegalStateException e) {
            endpoint.stopVertx();
            throw new IllegalStateException(
                    "MQTT can't listen on " + listen.host() + " port " + listen.port() + ": " + e.getMessage(), e);
        }
        log.info("MQTT on {} port {}", listen.host(), endpoint.port());
        return endpoint;
    }

    /** The port that gateways connect to. */
    public int port() {
        return server.actualPort();
    }

    /** Gateways connected now. */
    public int connections() {
        return connections;
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
        if (closing || !desk.isOpen()) {
            endpoint.reject(
                    is5
                            ? MqttConnectReturnCode.CONNECTION_REFUSED_SERVER_UNAVAILABLE_5
                            : MqttConnectReturnCode.CONNECTION_REFUSED_SERVER_UNAVAILABLE);
            return;
        }
        Optional<Will> will;
        try {
            will = Will.of(endpoint.will());
        } catch (Will.NotAllowed e) {
            log.info("a connection is refused: {}", e.getMessage());
            endpoint.reject(
                    is5
                            ? MqttConnectReturnCode.CONNECTION_REFUSED_TOPIC_NAME_INVALID
                            : MqttConnectReturnCode.CONNECTION_REFUSED_NOT_AUTHORIZED);
            return;
        }
        String clientId = endpoint.clientIdentifier();
        GatewayConnection connection = new GatewayConnection(
                endpoint, loop, desk, store, new RateLimit(packsPerSecond, burstPacks, System.nanoTime()), will, acks);
        endpoint.closeHandler(unused -> {
            connection.stopsListening();
            onClosed(clientId, connection);
        });
        takeOver(clientId, connection);
        connection.open();
    }

    /** The newer connection of a client wins (section 3.1.4); the gateway is still there, so no will is heard. */
    private void takeOver(String clientId, GatewayConnection connection) {
        GatewayConnection older = byClientId.put(clientId, connection);
        connections = byClientId.size();
        if (older != null) {
            log.info("a client connected twice; the older connection is closed");
            older.close(MqttDisconnectReasonCode.SESSION_TAKEN_OVER);
        }
        Long pending = wills.remove(clientId);
        if (pending != null) {
            vertx.cancelTimer(pending);
        }
    }

    private void onClosed(String clientId, GatewayConnection connection) {
        if (!byClientId.remove(clientId, connection)) {
            return;
        }
        connections = byClientId.size();
        if (closing) {
            // It is we who go; that says nothing about the gateway.
            return;
        }
        connection.willLeft().ifPresent(will -> {
            if (will.delay().isZero()) {
                record(will);
            } else {
                wills.put(clientId, vertx.setTimer(will.delay().toMillis(), unused -> {
                    wills.remove(clientId);
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
                byClientId.values().forEach(c -> c.close(MqttDisconnectReasonCode.SERVER_SHUTTING_DOWN));
                return server.close().toCompletionStage().toCompletableFuture();
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
