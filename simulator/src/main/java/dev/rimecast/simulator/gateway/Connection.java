package dev.rimecast.simulator.gateway;

import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;

/** What a client tells of one connection; an older one's news are known by their number. */
record Connection(SimulatedGateway gateway, int epoch) implements MqttCallback {
    @Override
    public void disconnected(MqttDisconnectResponse response) {
        gateway.lost(epoch, String.valueOf(response.getReasonString()));
    }

    @Override
    public void mqttErrorOccurred(MqttException exception) {
        gateway.lost(epoch, exception.toString());
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) {
        // One topic is subscribed to at most: how far our packs are stored.
        gateway.heard(epoch, message.getPayload());
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
}
