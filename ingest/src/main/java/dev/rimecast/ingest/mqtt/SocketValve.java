package dev.rimecast.ingest.mqtt;

import io.netty.channel.ChannelPipeline;
import io.netty.handler.flush.FlushConsolidationHandler;
import io.netty.handler.timeout.IdleStateHandler;
import io.vertx.core.internal.net.NetSocketInternal;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.impl.MqttEndpointImpl;
import java.lang.reflect.Field;
import java.util.concurrent.TimeUnit;

/**
 * Stops and goes on reading from one MQTT connection, and sends its receipts together. vertx-mqtt 5.2 has no call for either,
 * its socket has: this class is the only one that reaches for it. Where a later version keeps the socket elsewhere, {@link #check} fails the start
 * instead of letting an endpoint run that can't push back.
 *
 * <p>While nothing is read, nothing is heard of the client either, so its keep-alive is not held against it.
 */
final class SocketValve {
    private static final String SOCKET_FIELD = "conn";
    private static final String IDLE_HANDLER = "idle";
    private static final int RECEIPTS_AT_ONCE = 256;

    private final NetSocketInternal socket;
    private final int keepAliveSeconds;
    private boolean paused;

    private SocketValve(NetSocketInternal socket, int keepAliveSeconds) {
        this.socket = socket;
        this.keepAliveSeconds = keepAliveSeconds;
    }

    /**
     * Fails where the socket can't be reached.
     *
     * @throws IllegalStateException naming the library that has changed
     */
    static void check() {
        field();
    }

    static SocketValve of(MqttEndpoint endpoint) {
        try {
            if (field().get(endpoint) instanceof NetSocketInternal socket) {
                gather(socket.channelHandlerContext().pipeline());
                return new SocketValve(socket, endpoint.keepAliveTimeSeconds());
            }
            throw new IllegalStateException("this vertx-mqtt has no socket in its endpoint");
        } catch (IllegalAccessException e) {
            throw new IllegalStateException("this vertx-mqtt hides the socket of its endpoint", e);
        }
    }

    /** Kafka answers for many messages at once: their receipts leave in one write to the socket, not in one each. */
    private static void gather(ChannelPipeline pipeline) {
        pipeline.addFirst(new FlushConsolidationHandler(RECEIPTS_AT_ONCE, true));
    }

    /** Reads nothing more from the connection; what is already decoded waits. */
    void pause() {
        if (!paused) {
            paused = true;
            socket.pause();
            watch(0);
        }
    }

    void resume() {
        if (paused) {
            paused = false;
            // One and a half times the keep-alive, from now on [MQTT-3.1.2-24].
            watch(TimeUnit.SECONDS.toMillis(keepAliveSeconds) * 3 / 2);
            socket.resume();
        }
    }

    boolean isPaused() {
        return paused;
    }

    private void watch(long idleMillis) {
        ChannelPipeline pipeline = socket.channelHandlerContext().pipeline();
        if (keepAliveSeconds > 0 && pipeline.get(IDLE_HANDLER) != null) {
            pipeline.replace(IDLE_HANDLER, IDLE_HANDLER, new IdleStateHandler(idleMillis, 0, 0, TimeUnit.MILLISECONDS));
        }
    }

    private static Field field() {
        try {
            Field field = MqttEndpointImpl.class.getDeclaredField(SOCKET_FIELD);
            field.setAccessible(true);
            return field;
        } catch (NoSuchFieldException | RuntimeException e) {
            throw new IllegalStateException("this vertx-mqtt hides the socket of its endpoint", e);
        }
    }
}
