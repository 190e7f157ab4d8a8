package dev.rimecast.simulator.gateway;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.function.Consumer;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.MqttReturnCode;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;

/**
 * What a gateway says by the contract: how it connects, what it leaves as its will, what the server allows, its topics
 * and its messages.
 *
 * @param isCbor whether its packs are SenML CBOR; JSON otherwise
 */
record Session(String gateway, boolean isCbor) {
    /** Packs under way at once, where the server allows as many. */
    private static final int WIDEST_WINDOW = 40;

    MqttConnectionOptions options(GatewayLine line) {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setAutomaticReconnect(false);
        options.setCleanStart(true);
        options.setConnectionTimeout(10);
        options.setKeepAliveInterval(30);
        options.setMaximumPacketSize(256L * 1024);
        options.setWill(presenceTopic(), presence("offline"));
        line.tls().ifPresent(options::setSocketFactory);
        // The name in the server's certificate must be the one that was asked for (RFC 6125).
        options.setHttpsHostnameVerificationEnabled(true);
        line.secret().ifPresent(secret -> {
            options.setUserName(gateway);
            options.setPassword(secret.getBytes(StandardCharsets.UTF_8));
        });
        return options;
    }

    String packTopic() {
        return "fleet/" + gateway + (isCbor ? "/senml-cbor" : "/senml");
    }

    String presenceTopic() {
        return "fleet/" + gateway + "/presence";
    }

    /** Where the server says how far this gateway's packs are stored. */
    String ackTopic() {
        return "fleet/" + gateway + "/ack";
    }

    static MqttMessage presence(String word) {
        return new MqttMessage(word.getBytes(StandardCharsets.UTF_8), 1, true, null);
    }

    MqttMessage pack(String boot, PackStore.Numbered pack) {
        MqttProperties properties = new MqttProperties();
        properties.setContentType(isCbor ? "application/senml+cbor" : "application/senml+json");
        properties.setUserProperties(
                List.of(new UserProperty("boot", boot), new UserProperty("seq", Long.toString(pack.seq()))));
        return new MqttMessage(pack.payload(), 1, false, properties);
    }

    /** Below the server's receive maximum (MQTT 5 section 3.2.2.3.3) by one, which is for the presence. */
    static int window(IMqttToken connected) {
        MqttProperties properties = connected.getResponseProperties();
        Integer most = properties == null ? null : properties.getReceiveMaximum();
        return most == null ? WIDEST_WINDOW : Math.max(1, Math.min(WIDEST_WINDOW, most - 1));
    }

    /** Why a connection failed, for whoever has to mend it; codes of MQTT 5 section 3.2.2.2. */
    static String why(Throwable reason) {
        if (reason instanceof MqttException failed) {
            if (failed.getReasonCode() == MqttReturnCode.RETURN_CODE_BAD_USERNAME_OR_PASSWORD) {
                return "the server does not know its key";
            }
            if (failed.getCause() != null) {
                return String.valueOf(failed.getCause().getMessage());
            }
        }
        return String.valueOf(reason.getMessage());
    }

    static MqttActionListener listener(Consumer<IMqttToken> good, Consumer<Throwable> bad) {
        return new MqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
                good.accept(token);
            }

            @Override
            public void onFailure(IMqttToken token, Throwable reason) {
                bad.accept(reason);
            }
        };
    }
}
