package dev.rimecast.ingest.kafka;

import java.util.List;
import java.util.Map;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;

/**
 * What a person has taken again is written by one at a time: whoever comes puts out who is there, and what that one has not
 * committed was never written. So what is read behind the fence is decided, and what is decided on it is written once.
 */
public final class Fence implements AutoCloseable {
    private final KafkaProducer<byte[], byte[]> producer;

    private Fence(KafkaProducer<byte[], byte[]> producer) {
        this.producer = producer;
    }

    /**
     * Puts out whoever is there.
     *
     * @param name of what is guarded, the same in every process
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer
     */
    public static Fence enter(Map<String, String> kafka, String name) {
        KafkaProducer<byte[], byte[]> producer = new KafkaProducer<>(ClientConfig.transactions(kafka, name));
        try {
            producer.initTransactions();
            return new Fence(producer);
        } catch (RuntimeException e) {
            producer.close();
            throw e;
        }
    }

    /**
     * Writes all of them or none, and returns when they are stored.
     *
     * @throws org.apache.kafka.common.KafkaException if another came between, or Kafka does not answer
     */
    public void write(List<ProducerRecord<byte[], byte[]>> records) {
        producer.beginTransaction();
        for (ProducerRecord<byte[], byte[]> each : records) {
            var unused = producer.send(each);
        }
        producer.commitTransaction();
    }

    @Override
    public void close() {
        producer.close();
    }
}
