package dev.rimecast.ingest;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntFunction;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;

/** One gateway that sends as fast as its receipts allow. */
final class Load implements Runnable, AutoCloseable {
    /** Below the receive maximum of the endpoint. */
    private static final int WINDOW = 90;

    private final MqttAsyncClient client;
    private final String topic;
    private final int packs;
    private final IntFunction<MqttMessage> message;
    private final Semaphore window = new Semaphore(WINDOW);
    private final CountDownLatch open;
    final AtomicInteger acknowledged = new AtomicInteger();
    final AtomicInteger failed = new AtomicInteger();

    Load(int port, String gateway, int packs, IntFunction<MqttMessage> message) throws MqttException {
        this.client = new MqttAsyncClient("tcp://127.0.0.1:" + port, gateway, new MemoryPersistence());
        this.topic = "fleet/" + gateway + "/senml";
        this.packs = packs;
        this.message = message;
        this.open = new CountDownLatch(packs);
        client.connect(new MqttConnectionOptions()).waitForCompletion(10_000);
    }

    @Override
    public void run() {
        MqttActionListener listener = new MqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
                answered(acknowledged);
            }

            @Override
            public void onFailure(IMqttToken token, Throwable problem) {
                answered(failed);
            }
        };
        try {
            for (int seq = 1; seq <= packs; seq++) {
                window.acquire();
                client.publish(topic, message.apply(seq), null, listener);
            }
        } catch (MqttException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private void answered(AtomicInteger counter) {
        counter.incrementAndGet();
        window.release();
        open.countDown();
    }

    boolean await(long seconds) throws InterruptedException {
        return open.await(seconds, TimeUnit.SECONDS);
    }

    @Override
    public void close() throws MqttException {
        client.disconnect().waitForCompletion(5000);
        client.close();
    }
}
