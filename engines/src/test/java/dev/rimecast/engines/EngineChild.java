package dev.rimecast.engines;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.serialization.ByteArraySerializer;

/** The process that is killed while it holds an engine. */
final class EngineChild {
    private EngineChild() {}

    public static void main(String[] arguments) throws Exception {
        Path directory = Path.of(arguments[1]);
        switch (arguments[0]) {
            case "kafka" -> holdKafka(directory);
            case "transactions" -> holdTransactions(directory);
            case "postgres" -> holdPostgres(directory);
            default -> throw new IllegalArgumentException(arguments[0]);
        }
    }

    private static void holdKafka(Path directory) throws Exception {
        EmbeddedKafka kafka = EmbeddedKafka.start(directory, KafkaSettings.standard(failure -> {}));
        kafka.createTopics(List.of(new TopicSpec("kept", 3, Map.of())));
        KafkaProducer<byte[], byte[]> producer = new KafkaProducer<>(
                kafka.client(Map.of("acks", "all")), new ByteArraySerializer(), new ByteArraySerializer());
        System.out.println("ready");
        for (int i = 0; ; i++) {
            int number = i;
            byte[] text = String.valueOf(i).getBytes(StandardCharsets.UTF_8);
            producer.send(new ProducerRecord<>("kept", text, text), (written, failure) -> {
                if (failure == null) {
                    System.out.println("acked " + number);
                }
            });
        }
    }

    /** Commits as fast as it can, so that a kill finds a transaction whose decision is not written everywhere yet. */
    private static void holdTransactions(Path directory) throws Exception {
        EmbeddedKafka kafka = EmbeddedKafka.start(directory, KafkaSettings.standard(failure -> {}));
        kafka.createTopics(List.of(new TopicSpec("kept", TransactionsAfterKillIT.PARTITIONS, Map.of())));
        KafkaProducer<byte[], byte[]> producer = new KafkaProducer<>(
                kafka.client(
                        Map.of("transactional.id", "child-" + UUID.randomUUID(), "transaction.timeout.ms", "5000")),
                new ByteArraySerializer(),
                new ByteArraySerializer());
        producer.initTransactions();
        long first = System.currentTimeMillis() * 1_000;
        for (long number = first; ; number++) {
            byte[] text = String.valueOf(number).getBytes(StandardCharsets.UTF_8);
            producer.beginTransaction();
            for (int partition = 0; partition < TransactionsAfterKillIT.PARTITIONS; partition++) {
                producer.send(new ProducerRecord<>("kept", partition, text, text));
            }
            producer.commitTransaction();
            System.out.println("committed " + number);
        }
    }

    private static void holdPostgres(Path directory) throws Exception {
        EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, PostgresSettings.STANDARD);
        try (Connection connection =
                        DriverManager.getConnection(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword());
                Statement statement = connection.createStatement()) {
            statement.execute("CREATE TABLE kept (n int)");
            System.out.println("ready");
            for (int i = 0; ; i++) {
                statement.execute("INSERT INTO kept VALUES (" + i + ")");
                System.out.println("committed " + i);
            }
        }
    }
}
