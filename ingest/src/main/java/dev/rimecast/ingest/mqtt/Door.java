package dev.rimecast.ingest.mqtt;

import dev.rimecast.telemetry.net.TlsPair;
import dev.rimecast.telemetry.net.TlsWatch;
import io.vertx.core.Future;
import io.vertx.core.Handler;
import io.vertx.core.Vertx;
import io.vertx.core.net.ServerSSLOptions;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.MqttServer;
import io.vertx.mqtt.MqttServerOptions;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** An address that is listened on. A renewed certificate is shown to who connects from then on; connections that are open go on. */
final class Door implements TlsWatch.Listener {
    private static final Logger log = LoggerFactory.getLogger(Door.class);
    private static final long RENEWAL_TIMEOUT_SECONDS = 10;

    private final Listen listen;
    private final MqttServerOptions options;
    private final MqttServer server;
    private final Optional<TlsWatch> watch;

    /**
     * @param pair what {@link Doors#pair} has read
     * @param onConnect who has said CONNECT
     */
    Door(Vertx vertx, Listen listen, Optional<TlsPair> pair, Handler<MqttEndpoint> onConnect) {
        this.listen = listen;
        this.options = Doors.options(listen, pair);
        this.server = MqttServer.create(vertx, options)
                .endpointHandler(onConnect)
                .exceptionHandler(problem -> log.debug("refused: {}", problem.toString()));
        this.watch = listen.tls().map(tls -> new TlsWatch(tls.certificate(), tls.key(), pair.orElseThrow(), this));
    }

    Listen listen() {
        return listen;
    }

    Future<MqttServer> open() {
        return server.listen();
    }

    Future<Void> close() {
        return server.close();
    }

    int port() {
        return server.actualPort();
    }

    boolean isEncrypted() {
        return watch.isPresent();
    }

    /** Reads the files of the certificate again. Waits for the disk: not on an event loop. */
    void lookAtCertificate() {
        watch.ifPresent(TlsWatch::look);
    }

    /** Why the certificate that is in use is not the one in its file. */
    Optional<String> certificateProblem() {
        return watch.flatMap(TlsWatch::problem);
    }

    @Override
    public void renewed(TlsPair pair) {
        ServerSSLOptions renewed = options.getSslOptions().copy();
        renewed.setKeyCertOptions(Doors.shownBy(pair));
        try {
            var unused = server.updateSSLOptions(renewed)
                    .toCompletionStage()
                    .toCompletableFuture()
                    .get(RENEWAL_TIMEOUT_SECONDS, TimeUnit.SECONDS);
        } catch (ExecutionException | TimeoutException e) {
            throw new IllegalStateException("it is not taken: " + e.getMessage(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        }
        log.info("MQTT over TLS shows a new certificate: {}", pair);
    }

    @Override
    public void kept(String why) {
        log.warn("the certificate of MQTT over TLS has changed and can't be used, the one before stays: {}", why);
    }
}
