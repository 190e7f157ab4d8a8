package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlCborDecoder;
import dev.rimecast.telemetry.senml.SenmlJsonDecoder;
import dev.rimecast.telemetry.senml.SenmlPack;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.mqttv5.client.IMqttMessageListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.MqttSubscription;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;

/** Hears everything that the gateways of a broker say. */
final class Listener implements IMqttMessageListener, AutoCloseable {
    /** One pack as it came. */
    record Heard(String gateway, String boot, long seq, int bytes, List<Reading> readings) {
        Heard {
            readings = List.copyOf(readings);
        }
    }

    final List<Heard> packs = new CopyOnWriteArrayList<>();
    final Map<String, List<String>> presence = new ConcurrentHashMap<>();
    private final MqttAsyncClient client;

    Listener(String uri) throws MqttException {
        client = new MqttAsyncClient(uri, "listener", new MemoryPersistence());
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(true);
        client.connect(options).waitForCompletion(10_000);
        MqttSubscription all = new MqttSubscription("fleet/#", 1);
        client.subscribe(new MqttSubscription[] {all}, null, null, new IMqttMessageListener[] {this}, null)
                .waitForCompletion(10_000);
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) {
        String[] parts = topic.split("/", -1);
        if (parts[2].equals("presence")) {
            presence.computeIfAbsent(parts[1], id -> new CopyOnWriteArrayList<>())
                    .add(new String(message.getPayload(), StandardCharsets.UTF_8));
            return;
        }
        Instant now = Instant.parse("2030-01-01T00:00:00Z");
        SenmlPack pack = parts[2].equals("senml")
                ? SenmlJsonDecoder.decode(message.getPayload(), now)
                : SenmlCborDecoder.decode(message.getPayload(), now);
        List<UserProperty> properties = message.getProperties().getUserProperties();
        packs.add(new Heard(
                parts[1],
                property(properties, "boot"),
                Long.parseLong(property(properties, "seq")),
                message.getPayload().length,
                ((SenmlPack.Decoded) pack).readings()));
    }

    private static String property(List<UserProperty> properties, String key) {
        return properties.stream()
                .filter(property -> property.getKey().equals(key))
                .map(UserProperty::getValue)
                .findFirst()
                .orElseThrow();
    }

    /** Readings of one gateway, each pack counted once however often it came, by its number. */
    List<Reading> readings(String gateway) {
        List<Reading> readings = new ArrayList<>();
        packs.stream()
                .filter(pack -> pack.gateway().equals(gateway))
                .sorted((a, b) -> Long.compare(a.seq(), b.seq()))
                .collect(java.util.stream.Collectors.toMap(Heard::seq, p -> p, (a, b) -> a, java.util.TreeMap::new))
                .values()
                .forEach(pack -> readings.addAll(pack.readings()));
        return readings;
    }

    @Override
    public void close() throws MqttException {
        client.disconnectForcibly(0, 0, false);
        client.close(true);
    }
}
