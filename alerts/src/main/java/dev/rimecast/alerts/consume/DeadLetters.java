package dev.rimecast.alerts.consume;

import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.ExecutionException;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.header.Header;
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
        header(out, DeadLetterHeaders.REASON, reason.getClass().getSimpleName() + ": " + reason.getMessage());
        header(out, DeadLetterHeaders.STAGE, "alerts");
        if (letter.topic().equals(Topics.DEAD_LETTERS)) {
            again(letter, out);
        } else {
            header(out, DeadLetterHeaders.TOPIC, letter.topic());
            header(out, DeadLetterHeaders.PARTITION, String.valueOf(letter.partition()));
            header(out, DeadLetterHeaders.OFFSET, String.valueOf(letter.offset()));
        }
        try {
            producer.send(out).get();
        } catch (ExecutionException e) {
            throw new KafkaException("the dead letter was not taken: " + e.getCause(), e.getCause());
        }
    }

    /** An order to take a letter again, which failed once more: it is still the same letter. */
    private static void again(ConsumerRecord<byte[], byte[]> order, ProducerRecord<byte[], byte[]> out) {
        for (String name : List.of(DeadLetterHeaders.TOPIC, DeadLetterHeaders.PARTITION, DeadLetterHeaders.OFFSET)) {
            copy(order, name, out, name);
        }
        copy(order, DeadLetterHeaders.REPLAYED, out, DeadLetterHeaders.REPLAY_OF);
    }

    private static void copy(
            ConsumerRecord<byte[], byte[]> from, String name, ProducerRecord<byte[], byte[]> out, String as) {
        Header header = from.headers().lastHeader(name);
        if (header != null) {
            out.headers().add(as, header.value());
        }
    }

    private static void header(ProducerRecord<byte[], byte[]> out, String name, String value) {
        out.headers().add(name, value.getBytes(StandardCharsets.UTF_8));
    }
}
