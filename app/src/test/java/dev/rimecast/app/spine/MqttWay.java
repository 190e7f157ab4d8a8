package dev.rimecast.app.spine;

import java.nio.charset.StandardCharsets;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;

/** How somebody connects over MQTT to say one thing, and whether they are let. */
record MqttWay(int port, String clientId, MqttConnectionOptions options) {
    static final class Refused extends Exception {
        private static final long serialVersionUID = 1L;

        Refused(Object why) {
            super(String.valueOf(why));
        }
    }

    /** @param secret empty: none is shown */
    static MqttWay withSecret(int port, String gateway, String secret) {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setUserName(gateway);
        if (!secret.isEmpty()) {
            options.setPassword(secret.getBytes(StandardCharsets.UTF_8));
        }
        return new MqttWay(port, gateway, options);
    }

    boolean isRefused() {
        try {
            publish(clientId, "[]");
            return false;
        } catch (Refused refused) {
            return true;
        } catch (MqttException e) {
            throw new IllegalStateException(e);
        }
    }

    void publish(String gateway, String payload) throws Refused, MqttException {
        send("fleet/" + gateway + "/senml", payload);
    }

    void send(String topic, String payload) throws Refused, MqttException {
        MqttAsyncClient client = new MqttAsyncClient("tcp://127.0.0.1:" + port, clientId, new MemoryPersistence());
        try {
            client.connect(options).waitForCompletion(10_000);
            var receipt = client.publish(topic, payload.getBytes(StandardCharsets.UTF_8), 1, false);
            receipt.waitForCompletion(10_000);
            if (receipt.getReasonCodes()[0] >= 0x80) {
                throw new Refused(receipt.getReasonCodes()[0]);
            }
            client.disconnect(0).waitForCompletion(5_000);
        } catch (MqttException refused) {
            throw new Refused(refused);
        } finally {
            if (client.isConnected()) {
                client.disconnectForcibly(0, 0, false);
            }
        }
    }
}
