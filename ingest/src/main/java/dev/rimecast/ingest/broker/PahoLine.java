package dev.rimecast.ingest.broker;

import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.mqtt.PackNumbers;
import dev.rimecast.telemetry.net.ClientThreads;
import dev.rimecast.telemetry.net.PatientSockets;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.TimerPingSender;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.MqttSubscription;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A line by Eclipse Paho: connects, subscribes, and hands over what comes. A client object of its own for each line: the
 * library sends an acknowledgement of an earlier connection on a later one without complaint. Its own reconnecting is
 * off, since that neither tries a first connection again nor tells one connection from the next.
 *
 * <p>Packs are subscribed to as a group, each going to one instance. Presence is subscribed to by each instance for
 * itself, anew on every connection: only so does the broker send the word that each gateway said last, and it comes
 * behind older words that waited in our session.
 */
final class PahoLine implements Line, MqttCallback {
    private static final Logger log = LoggerFactory.getLogger(PahoLine.class);
    private static final int KEEP_ALIVE_SECONDS = 30;
    private static final int CONNECT_TIMEOUT_SECONDS = 10;
    private static final long GOODBYE_MILLIS = 1000;
    /** Above 0, or the library does not wake up the thread that sends. */
    private static final long QUIESCE_MILLIS = 1;
    /** Beside the payload: topic and properties. */
    private static final int HEADER_BYTES = 8 * 1024;
    /** Reason codes from here on are refusals (MQTT 5 section 2.4). */
    private static final int FIRST_REFUSAL = 0x80;

    private final MqttAsyncClient client;
    private final ClientThreads threads;
    private final Listener listener;
    private final String clientId;

    private PahoLine(MqttAsyncClient client, ClientThreads threads, BrokerSettings settings, Listener listener) {
        this.client = client;
        this.threads = threads;
        this.listener = listener;
        this.clientId = settings.clientId();
    }

    /** Begins to connect. */
    static Line open(BrokerSettings settings, Listener listener) {
        try {
            ClientThreads threads = new ClientThreads();
            MqttAsyncClient client = new MqttAsyncClient(
                    settings.serverUri(),
                    settings.clientId(),
                    new MemoryPersistence(),
                    new TimerPingSender(null),
                    threads);
            PahoLine line = new PahoLine(client, threads, settings, listener);
            client.setCallback(line);
            client.setManualAcks(true);
            var unused = client.connect(options(settings), null, line.on(token -> line.subscribe(settings, token)));
            return line;
        } catch (MqttException e) {
            listener.down(Reasons.of(e, settings.clientId()));
            return new NoLine();
        }
    }

    private static MqttConnectionOptions options(BrokerSettings settings) {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setAutomaticReconnect(false);
        options.setCleanStart(false);
        options.setSessionExpiryInterval(settings.sessionExpiry().toSeconds());
        options.setReceiveMaximum(settings.receiveMaximum());
        options.setMaximumPacketSize((long) Intake.MAX_PAYLOAD_BYTES + HEADER_BYTES);
        options.setKeepAliveInterval(KEEP_ALIVE_SECONDS);
        options.setConnectionTimeout(CONNECT_TIMEOUT_SECONDS);
        if (settings.serverUri().startsWith("tcp://")) {
            options.setSocketFactory(new PatientSockets());
        }
        settings.login().ifPresent(login -> {
            options.setUserName(login.user());
            options.setPassword(login.password().getBytes(StandardCharsets.UTF_8));
        });
        return options;
    }

    private void subscribe(BrokerSettings settings, IMqttToken connected) {
        String shared = "$share/" + settings.group() + "/fleet/+/";
        MqttSubscription[] wanted = {
            new MqttSubscription(shared + "senml", 1),
            new MqttSubscription(shared + "senml-cbor", 1),
            new MqttSubscription("fleet/+/presence", 1)
        };
        boolean isSessionPresent = connected.getSessionPresent();
        try {
            var unused = client.subscribe(wanted, null, on(token -> granted(token, isSessionPresent)), null);
        } catch (MqttException e) {
            listener.down(Reasons.of(e, clientId));
        }
    }

    private void granted(IMqttToken token, boolean isSessionPresent) {
        for (int code : token.getReasonCodes()) {
            if (code >= FIRST_REFUSAL) {
                listener.down(Reasons.refusedSubscription(code));
                return;
            }
        }
        listener.up(isSessionPresent);
    }

    /** What is to be done when an action has gone well; one that has not ends the line. */
    private MqttActionListener on(java.util.function.Consumer<IMqttToken> success) {
        return new MqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
                success.accept(token);
            }

            @Override
            public void onFailure(IMqttToken token, Throwable problem) {
                listener.down(Reasons.of(problem, clientId));
            }
        };
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) {
        List<PackNumbers.Property> properties =
                Optional.ofNullable(message.getProperties()).map(MqttProperties::getUserProperties).stream()
                        .flatMap(List::stream)
                        .map(property -> new PackNumbers.Property(property.getKey(), property.getValue()))
                        .toList();
        listener.arrived(new Arrival(
                topic, message.getPayload(), message.getQos(), message.getId(), PackNumbers.read(properties)));
    }

    @Override
    public void acknowledge(int packetId) {
        try {
            client.messageArrivedComplete(packetId, 1);
        } catch (MqttException e) {
            // Not sent, so the broker sends the message again; that the line is down comes by its own way.
            log.debug("an acknowledgement could not be sent", e);
        }
    }

    @Override
    public void publish(String topic, byte[] payload, Runnable done) {
        MqttActionListener whenTaken = new MqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
                done.run();
            }

            @Override
            public void onFailure(IMqttToken token, Throwable problem) {
                // Refused (a broker's access list), or the line is down, which comes by its own way: never tried again.
                log.debug("nothing could be published to {}", topic, problem);
                done.run();
            }
        };
        try {
            var unused = client.publish(topic, new MqttMessage(payload, 1, false, null), null, whenTaken);
        } catch (MqttException e) {
            log.debug("nothing could be published to {}", topic, e);
            done.run();
        }
    }

    @Override
    public void disconnected(MqttDisconnectResponse response) {
        listener.down(Reasons.of(response, clientId));
    }

    @Override
    public void mqttErrorOccurred(MqttException problem) {
        listener.down(Reasons.of(problem, clientId));
    }

    @Override
    public void deliveryComplete(IMqttToken token) {
        // The listener of each publish says so.
    }

    @Override
    public void connectComplete(boolean reconnect, String serverUri) {
        // The listener of the connect says so.
    }

    @Override
    public void authPacketArrived(int reasonCode, MqttProperties properties) {
        // No extended authentication is asked for.
    }

    @Override
    public void drop() {
        // Elsewhere: the library waits for its own threads to end, one of which may have brought us here.
        Thread end = new Thread(this::dispose, "ingest-broker-end");
        end.setDaemon(true);
        end.start();
    }

    private void dispose() {
        stop();
        threads.awaitEnd(this::stop);
        try {
            client.close(true);
        } catch (MqttException e) {
            log.debug("giving up a line", e);
        }
    }

    private void stop() {
        try {
            client.disconnectForcibly(QUIESCE_MILLIS, 0, false);
        } catch (MqttException e) {
            log.debug("giving up a line", e);
        }
    }

    @Override
    public void leave() {
        try {
            // Behind the acknowledgements that are on their way out.
            client.disconnect(GOODBYE_MILLIS).waitForCompletion(2 * GOODBYE_MILLIS);
        } catch (MqttException e) {
            log.debug("no goodbye", e);
        }
        drop();
    }

    /** What there is when there could not even be an attempt. */
    private static final class NoLine implements Line {
        @Override
        public void acknowledge(int packetId) {
            // Nothing came.
        }

        @Override
        public void publish(String topic, byte[] payload, Runnable done) {
            // Nobody is there.
        }

        @Override
        public void drop() {
            // Nothing is there.
        }

        @Override
        public void leave() {
            // Nothing is there.
        }
    }
}
