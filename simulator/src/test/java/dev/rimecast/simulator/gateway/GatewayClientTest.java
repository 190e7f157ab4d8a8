package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.logging.Handler;
import java.util.logging.LogRecord;
import java.util.logging.Logger;
import javax.net.SocketFactory;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A client that is ended while its thread is still in the midst of sending. */
class GatewayClientTest {
    /** MQTT 5 section 3.2: taken, without properties. */
    private static final byte[] CONNACK = {0x20, 3, 0, 0, 0};

    /** Type of a packet, MQTT 5 section 2.1.2, in its first four bits. */
    private static final int PUBLISH = 3;

    /** In which a client that waits for nobody would be closed. */
    private static final Duration SLOW = Duration.ofMillis(500);

    private final Logger sender = Logger.getLogger("org.eclipse.paho.mqttv5.client.internal.CommsSender");
    private final List<String> said = new CopyOnWriteArrayList<>();
    private final Handler listener = new Handler() {
        @Override
        public void publish(LogRecord line) {
            said.add(line.getLevel() + " " + line.getSourceMethodName() + " " + line.getThrown());
        }

        @Override
        public void flush() {
            // Nothing waits.
        }

        @Override
        public void close() {
            // Nothing is open.
        }
    };

    @BeforeEach
    void listen() {
        sender.addHandler(listener);
    }

    @AfterEach
    void listenNoMore() {
        sender.removeHandler(listener);
    }

    @Test
    void end_whileSomethingIsBeingSent_saysNothing_andLeavesNoThread() throws Exception {
        try (ServerSocket door = new ServerSocket(0, 50, InetAddress.getLoopbackAddress())) {
            Thread server = new Thread(() -> takeEverything(door), "server");
            server.setDaemon(true);
            server.start();
            GatewayClient client = new GatewayClient("tcp://127.0.0.1:" + door.getLocalPort(), "gw-slow");
            MqttConnectionOptions options = new MqttConnectionOptions();
            SlowToPublish sockets = new SlowToPublish();
            options.setSocketFactory(sockets);
            client.connect(options).waitForCompletion(10_000);
            var unused = client.publish("fleet/gw-slow/presence", new byte[] {1}, 0, false);
            assertThat(sockets.sends.await(10, TimeUnit.SECONDS)).isTrue();

            client.end();

            await().during(SLOW)
                    .atMost(SLOW.multipliedBy(20))
                    .until(() -> threads().contains("MQTT Snd: gw-slow"));
            sockets.goesOn.countDown();
            await().atMost(Duration.ofSeconds(30))
                    .untilAsserted(() -> assertThat(threads()).isEmpty());
            assertThat(said).isEmpty();
        }
    }

    private static List<String> threads() {
        return Thread.getAllStackTraces().keySet().stream()
                .map(Thread::getName)
                .filter(name -> name.endsWith(": gw-slow") || name.equals("simulated-gateway-end"))
                .toList();
    }

    private static void takeEverything(ServerSocket door) {
        try (Socket line = door.accept();
                InputStream in = line.getInputStream()) {
            if (in.read() >= 0) {
                line.getOutputStream().write(CONNACK);
            }
            in.transferTo(OutputStream.nullOutputStream());
        } catch (IOException e) {
            // The client is gone, or the test is over.
        }
    }

    /** In the clear; what it sends is there at once but for a PUBLISH. */
    private static final class SlowToPublish extends SocketFactory {
        private final CountDownLatch sends = new CountDownLatch(1);
        private final CountDownLatch goesOn = new CountDownLatch(1);

        @Override
        public Socket createSocket() {
            return new Socket() {
                @Override
                public OutputStream getOutputStream() throws IOException {
                    return new Slow(super.getOutputStream(), sends, goesOn);
                }
            };
        }

        @Override
        public Socket createSocket(String host, int port) {
            throw new UnsupportedOperationException();
        }

        @Override
        public Socket createSocket(String host, int port, InetAddress localHost, int localPort) {
            throw new UnsupportedOperationException();
        }

        @Override
        public Socket createSocket(InetAddress host, int port) {
            throw new UnsupportedOperationException();
        }

        @Override
        public Socket createSocket(InetAddress host, int port, InetAddress localHost, int localPort) {
            throw new UnsupportedOperationException();
        }
    }

    private static final class Slow extends FilterOutputStream {
        private final CountDownLatch sends;
        private final CountDownLatch goesOn;

        Slow(OutputStream out, CountDownLatch sends, CountDownLatch goesOn) {
            super(out);
            this.sends = sends;
            this.goesOn = goesOn;
        }

        @Override
        public void write(byte[] bytes, int offset, int length) throws IOException {
            if ((bytes[offset] & 0xff) >> 4 == PUBLISH) {
                sends.countDown();
                try {
                    goesOn.await();
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                }
                // As if the network had taken it just before the end.
                return;
            }
            out.write(bytes, offset, length);
        }
    }
}
