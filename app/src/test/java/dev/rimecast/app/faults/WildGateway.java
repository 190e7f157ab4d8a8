package dev.rimecast.app.faults;

import static org.awaitility.Awaitility.await;

import dev.rimecast.simulator.gateway.GatewayWatch;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;

/** A gateway that does what a good one would not: repeats, shuffles, comes late, has a wrong clock, sends poison. */
final class WildGateway implements AutoCloseable, MqttCallback {
    static final String SITE = "wild";
    static final String GATEWAY = "gw-wild";
    static final String MACHINE = "wild-1";
    private static final String TOPIC = "fleet/" + GATEWAY + "/senml";
    /** Below the server's receive maximum of 100. */
    private static final int UNDER_WAY = 80;

    private static final int SHUFFLED = 500;
    private static final int ONE_MEGABYTE = 1 << 20;

    private final String host;
    private final MqttAsyncClient client;
    private final Ledger ledger;
    private final GatewayWatch watch;
    private final String boot;
    private long lastSeq;

    WildGateway(int port, Path ledgerFile, long seed) throws IOException, MqttException {
        host = "tcp://127.0.0.1:" + port;
        ledger = Ledger.open(ledgerFile);
        watch = ledger.of(GATEWAY);
        boot = "wild-" + seed;
        client = new MqttAsyncClient(host, GATEWAY, new MemoryPersistence());
        client.setCallback(this);
        client.connect(new MqttConnectionOptions()).waitForCompletion(10_000);
        client.subscribe("fleet/" + GATEWAY + "/ack", 1).waitForCompletion(10_000);
    }

    /** So many packs, one reading each, three times each, shuffled in a window of 500 messages. */
    void repeatsAndShuffles(int packs, Instant from, Random random) throws InterruptedException {
        List<PackOf> messages = new ArrayList<>();
        for (int i = 0; i < packs; i++) {
            PackOf pack = next(from.plus(Duration.ofMinutes(i)), i % 30 - 15);
            Collections.addAll(messages, pack, pack, pack);
        }
        for (int start = 0; start < messages.size(); start += SHUFFLED) {
            Collections.shuffle(messages.subList(start, Math.min(messages.size(), start + SHUFFLED)), random);
        }
        Semaphore window = new Semaphore(UNDER_WAY);
        for (PackOf pack : messages) {
            window.acquire();
            publish(pack, window);
        }
        if (!window.tryAcquire(UNDER_WAY, 60, TimeUnit.SECONDS)) {
            throw new IllegalStateException("receipts are missing");
        }
    }

    /** Readings of an hour, a day and a year ago, behind one of now. */
    void comesLate(Instant now) throws InterruptedException {
        Semaphore window = new Semaphore(1);
        List<Duration> ages = List.of(Duration.ZERO, Duration.ofHours(1), Duration.ofDays(1), Duration.ofDays(365));
        for (Duration age : ages) {
            window.acquire();
            publish(next(now.minus(age), 3), window);
        }
        window.acquire();
    }

    /** One message of every kind of poison. */
    List<Poison> sendsPoison(Instant now) throws InterruptedException, MqttException {
        List<Poison> all = Poison.ofEveryKind(GATEWAY, MACHINE, now);
        Semaphore window = new Semaphore(1);
        for (Poison poison : all) {
            window.acquire();
            if (poison.isNumbered()) {
                lastSeq++;
                publish(new PackOf(poison.topic(), new PackNumber(boot, lastSeq), poison.payload()), window);
            } else {
                client.publish(
                        poison.topic(), new MqttMessage(poison.payload(), 1, false, null), null, freeing(window));
            }
        }
        window.acquire();
        return all;
    }

    /** A megabyte, which no packet may have: the connection on which it comes is ended, and no other. */
    boolean isCutOffForAMegabyte() throws org.eclipse.paho.client.mqttv3.MqttException {
        MqttClient other =
                new MqttClient(host, "heavy", new org.eclipse.paho.client.mqttv3.persist.MemoryPersistence());
        try {
            other.connect();
            try {
                other.setTimeToWait(10_000);
                other.publish(TOPIC, new byte[ONE_MEGABYTE], 1, false);
            } catch (org.eclipse.paho.client.mqttv3.MqttException expected) {
                // It is told so as soon as the server has closed.
            }
            await().atMost(Duration.ofSeconds(60)).until(() -> !other.isConnected());
            return client.isConnected();
        } finally {
            other.close(true);
        }
    }

    /** A pack on its way. */
    @SuppressWarnings("ArrayRecordComponent") // carried, never compared
    private record PackOf(String topic, PackNumber number, byte[] payload) {}

    private PackOf next(Instant at, double celsius) {
        lastSeq++;
        byte[] payload = SenmlJsonEncoder.encode(
                List.of(Reading.number(MACHINE, Channel.EVAPORATOR_TEMPERATURE, at.toEpochMilli(), celsius)));
        return new PackOf(TOPIC, new PackNumber(boot, lastSeq), payload);
    }

    private void publish(PackOf pack, Semaphore window) {
        MqttProperties properties = new MqttProperties();
        properties.setUserProperties(List.of(
                new UserProperty("boot", boot),
                new UserProperty("seq", Long.toString(pack.number().seq()))));
        watch.sends(pack.number(), pack.payload());
        try {
            client.publish(pack.topic(), new MqttMessage(pack.payload(), 1, false, properties), null, new Answer(() -> {
                watch.receipt(pack.number());
                window.release();
            }));
        } catch (MqttException e) {
            throw new IllegalStateException(e);
        }
    }

    private static MqttActionListener freeing(Semaphore window) {
        return new Answer(window::release);
    }

    /** A receipt, whatever its code says: a refusal is one, too. */
    private record Answer(Runnable then) implements MqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            then.run();
        }

        @Override
        public void onFailure(IMqttToken token, Throwable problem) {
            then.run();
        }
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) {
        watch.covered(GatewayAckJson.readPayload(message.getPayload()));
    }

    @Override
    public void disconnected(MqttDisconnectResponse response) {}

    @Override
    public void mqttErrorOccurred(MqttException exception) {}

    @Override
    public void deliveryComplete(IMqttToken token) {}

    @Override
    public void connectComplete(boolean reconnect, String serverUri) {}

    @Override
    public void authPacketArrived(int reasonCode, MqttProperties properties) {}

    @Override
    public void close() throws IOException, MqttException {
        client.disconnect(0).waitForCompletion(5_000);
        client.close(true);
        ledger.close();
    }
}
