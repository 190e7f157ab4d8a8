package dev.rimecast.app.spine;

import java.nio.charset.StandardCharsets;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;

/** How somebody connects over MQTT to say one thing, and whether they are let. */
record MqttWay(String uri, String clientId, MqttConnectionOptions options) {
    static final class Refused extends Exception {
        private static final long serialVersionUID = 1L;

        Refused(Object why) {
            super(String.valueOf(why));
        }
    }

    /** In the clear, to this machine. */
    MqttWay(int port, String clientId, MqttConnectionOptions options) {
        this("tcp://127.0.0.1:" + port, clientId, options);
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
        send(topic, payload, false);
    }

    void send(String topic, String payload, boolean isRetained) throws Refused, MqttException {
        whileConnected(client -> {
            var receipt = client.publish(topic, payload.getBytes(StandardCharsets.UTF_8), 1, isRetained);
            receipt.waitForCompletion(10_000);
            return receipt.getReasonCodes()[0];
        });
    }

    /** Asks to be told what is published on {@code topic}. */
    void listen(String topic) throws Refused, MqttException {
        whileConnected(client -> {
            var receipt = client.subscribe(topic, 1);
            receipt.waitForCompletion(10_000);
            return receipt.getReasonCodes()[0];
        });
    }

    private interface Deed {
        /** @return a reason code (MQTT 5 section 2.4) */
        int done(MqttAsyncClient client) throws MqttException;
    }

    private void whileConnected(Deed deed) throws Refused, MqttException {
        MqttAsyncClient client = new MqttAsyncClient(uri, clientId, new MemoryPersistence());
        try {
            client.connect(options).waitForCompletion(10_000);
            int code = deed.done(client);
            if (code >= 0x80) {
                throw new Refused(code);
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
