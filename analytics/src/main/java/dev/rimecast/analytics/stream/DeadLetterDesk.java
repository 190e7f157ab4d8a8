package dev.rimecast.analytics.stream;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.util.Map;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.streams.errors.ErrorHandlerContext;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Counts, logs and makes dead letters for the handler, which finds it in its configuration. */
record DeadLetterDesk(StageCounters counters) {
    static final String CONFIG = "rimecast.dead.letter.desk";
    /** Before the handler is configured, which Kafka does before its first use. */
    static final DeadLetterDesk NONE = new DeadLetterDesk(new StageCounters(new SimpleMeterRegistry()));

    private static final Logger LOG = LoggerFactory.getLogger(DeadLetterDesk.class);

    static DeadLetterDesk in(Map<String, ?> config) {
        if (config.get(CONFIG) instanceof DeadLetterDesk desk) {
            return desk;
        }
        throw new IllegalArgumentException(CONFIG + " is not set");
    }

    ProducerRecord<byte[], byte[]> putAside(ErrorHandlerContext source, PoisonRecordException poison) {
        counters.deadLetter(poison.reason());
        LOG.warn(
                "put aside the record at {}-{}@{} ({}): {}",
                source.topic(),
                source.partition(),
                source.offset(),
                poison.reason().code(),
                poison.getMessage());
        return DeadLetter.of(source, poison);
    }
}
