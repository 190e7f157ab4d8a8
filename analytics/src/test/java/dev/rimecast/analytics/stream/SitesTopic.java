package dev.rimecast.analytics.stream;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Future;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.clients.producer.RecordMetadata;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.serialization.StringSerializer;

/** Writes sites' logs as ingest does. */
final class SitesTopic implements AutoCloseable {
    private final KafkaProducer<String, byte[]> producer;
    private final List<Future<RecordMetadata>> sent = new ArrayList<>();
    private final int partitions;

    SitesTopic(EmbeddedKafka kafka) {
        producer = new KafkaProducer<>(
                kafka.client(Map.of("acks", "all")), new StringSerializer(), new ByteArraySerializer());
        partitions = producer.partitionsFor(Topics.SITES).size();
    }

    void write(String site, SiteRecord entry) {
        sent.add(producer.send(new ProducerRecord<>(Topics.SITES, site, SiteLogCodec.encode(entry))));
    }

    void writeGarbage(String site) {
        sent.add(producer.send(new ProducerRecord<>(Topics.SITES, site, new byte[] {99, 1, 2, 3})));
    }

    void tickEverywhere(int minute) {
        byte[] tick = SiteLogCodec.encode(SiteLogs.tick(minute));
        for (int partition = 0; partition < partitions; partition++) {
            sent.add(producer.send(new ProducerRecord<>(Topics.SITES, partition, null, tick)));
        }
    }

    /** Returns where each record went, once Kafka has all. */
    List<RecordMetadata> flush() throws Exception {
        producer.flush();
        List<RecordMetadata> places = new ArrayList<>();
        for (Future<RecordMetadata> one : sent) {
            places.add(one.get());
        }
        sent.clear();
        return places;
    }

    @Override
    public void close() {
        producer.close();
    }
}
