package dev.rimecast.alerts.consume;

import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.ExecutionException;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.KafkaException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Records that can't be taken in go to topic {@code dead-letters}, with where they came from and why. */
final class DeadLetters {
    private static final Logger LOG = LoggerFactory.getLogger(DeadLetters.class);

    private final Producer<byte[], byte[]> producer;

    DeadLetters(Producer<byte[], byte[]> producer) {
        this.producer = producer;
    }

    /**
     * Returns when Kafka has it, so that the offset may move on.
     *
     * @throws KafkaException if Kafka does not take it
     */
    void send(ConsumerRecord<byte[], byte[]> letter, Throwable reason) throws InterruptedException {
        LOG.warn(
                "{}-{} offset {} goes to the dead letters: {}",
                letter.topic(),
                letter.partition(),
                letter.offset(),
                reason.getMessage(),
                reason);
        ProducerRecord<byte[], byte[]> out = new ProducerRecord<>(Topics.DEAD_LETTERS, letter.key(), letter.value());
        header(out, "reason", reason.getClass().getSimpleName() + ": " + reason.getMessage());
        header(out, "stage", "alerts");
        header(out, "topic", letter.topic());
        header(out, "partition", String.valueOf(letter.partition()));
        header(out, "offset", String.valueOf(letter.offset()));
        try {
            producer.send(out).get();
        } catch (ExecutionException e) {
            throw new KafkaException("the dead letter was not taken: " + e.getCause(), e.getCause());
        }
    }

    private static void header(ProducerRecord<byte[], byte[]> out, String name, String value) {
        out.headers().add(name, value.getBytes(StandardCharsets.UTF_8));
    }
}
