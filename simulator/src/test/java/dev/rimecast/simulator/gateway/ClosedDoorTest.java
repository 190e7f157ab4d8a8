package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.time.Duration;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

/** A proxy that takes connections for a server that is away, and closes them at once. */
class ClosedDoorTest {
    private final AtomicInteger taken = new AtomicInteger();

    @Test
    void attemptsAtADoorThatCloses_leaveNoThreadBehind() throws Exception {
        ScheduledExecutorService timer = Executors.newScheduledThreadPool(1);
        try (ServerSocket door = new ServerSocket(0, 50, InetAddress.getLoopbackAddress())) {
            Thread porter = new Thread(() -> closeWhoComes(door), "porter");
            porter.setDaemon(true);
            porter.start();
            try (SimulatedGateway gateway = new SimulatedGateway(
                    "gw-shut",
                    GatewayLine.inTheClear("tcp://127.0.0.1:" + door.getLocalPort()),
                    "b1",
                    SenmlJsonEncoder::encode,
                    false,
                    timer)) {
                gateway.start();
                await().atMost(Duration.ofSeconds(60)).until(() -> taken.get() >= 4);
                assertThat(Thread.getAllStackTraces().keySet())
                        .extracting(Thread::getName)
                        .filteredOn(name -> name.equals("MQTT Con: gw-shut"))
                        .as("after %d attempts only the one under way", taken.get())
                        .hasSizeLessThanOrEqualTo(1);
            }
        } finally {
            timer.shutdownNow();
        }
    }

    private void closeWhoComes(ServerSocket door) {
        try {
            while (true) {
                door.accept().close();
                taken.incrementAndGet();
            }
        } catch (IOException e) {
            // the door is gone: the test is over
        }
    }
}
