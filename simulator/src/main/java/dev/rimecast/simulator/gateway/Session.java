package dev.rimecast.simulator.gateway;

import java.nio.charset.StandardCharsets;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;

/** How a gateway connects: what it asks of the server, what it leaves as its will, and what the server allows. */
record Session(String gateway) {
    /** Packs under way at once, where the server allows as many. */
    private static final int WIDEST_WINDOW = 40;

    MqttConnectionOptions options() {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setAutomaticReconnect(false);
        options.setCleanStart(true);
        options.setConnectionTimeout(10);
        options.setKeepAliveInterval(30);
        options.setMaximumPacketSize(256L * 1024);
        options.setWill(presenceTopic(), presence("offline"));
        return options;
    }

    String presenceTopic() {
        return "fleet/" + gateway + "/presence";
    }

    static MqttMessage presence(String word) {
        return new MqttMessage(word.getBytes(StandardCharsets.UTF_8), 1, true, null);
    }

    /** Below the server's receive maximum (MQTT 5 section 3.2.2.3.3) by one, which is for the presence. */
    static int window(IMqttToken connected) {
        MqttProperties properties = connected.getResponseProperties();
        Integer most = properties == null ? null : properties.getReceiveMaximum();
        return most == null ? WIDEST_WINDOW : Math.max(1, Math.min(WIDEST_WINDOW, most - 1));
    }
}
