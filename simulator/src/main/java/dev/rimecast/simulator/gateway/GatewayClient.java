package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.net.ClientThreads;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.TimerPingSender;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A client of MQTT for one connection, which is closed once its threads have ended. */
final class GatewayClient extends MqttAsyncClient {
    private static final Logger LOG = LoggerFactory.getLogger(GatewayClient.class);
    /** Above 0, or the library does not wake up the thread that sends. */
    private static final long QUIESCE_MILLIS = 1;

    private final ClientThreads threads;

    GatewayClient(String serverUri, String gateway) throws MqttException {
        this(serverUri, gateway, new ClientThreads());
    }

    private GatewayClient(String serverUri, String gateway, ClientThreads threads) throws MqttException {
        super(serverUri, gateway, new MemoryPersistence(), new TimerPingSender(null), threads);
        this.threads = threads;
    }

    /** Ends the connection without a farewell. What is left of it ends by itself. */
    void end() {
        stop();
        Thread end = new Thread(this::closeInTheEnd, "simulated-gateway-end");
        end.setDaemon(true);
        end.start();
    }

    private void stop() {
        try {
            disconnectForcibly(QUIESCE_MILLIS, 0, false);
        } catch (MqttException e) {
            LOG.debug("giving up a connection", e);
        }
    }

    private void closeInTheEnd() {
        threads.awaitEnd(this::stop);
        try {
            close(true);
        } catch (MqttException e) {
            LOG.debug("giving up a connection", e);
        }
    }
}
