package dev.rimecast.alerts.register;

import dev.rimecast.alerts.notice.text.CloudEvent;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.Outbox;
import dev.rimecast.alerts.store.Outbox.Waiting;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Future;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.clients.producer.RecordMetadata;
import org.jdbi.v3.core.Handle;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Moves waiting records from the outbox to Kafka, in order for each key, at least once: a row goes when Kafka has it,
 * so a stop between the two sends it again. When a send fails, the rest of that key waits and is sent again in order.
 * One instance publishes at a time.
 */
public final class OutboxPublisher implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(OutboxPublisher.class);
    /** CloudEvents Kafka protocol binding 1.0.2, section 3.3.1: the header that tells structured mode. */
    private static final byte[] CLOUD_EVENT = CloudEvent.MEDIA_TYPE.getBytes(StandardCharsets.UTF_8);

    private static final int BATCH = 2_000;
    private static final long IDLE_MILLIS = 1_000;
    private static final long LOOK_MILLIS = 20;
    private static final long CLOSE_LIMIT_MILLIS = 5_000;

    private final Database database;
    private final Producer<byte[], byte[]> producer;
    private final Consumer<String> problem;
    private final Semaphore work = new Semaphore(0);
    private final Thread thread = new Thread(this::run, "alerts-outbox");
    private volatile boolean stopping;

    /** @param problem told what does not work, an empty text once it works again */
    public OutboxPublisher(Database database, Producer<byte[], byte[]> producer, Consumer<String> problem) {
        this.database = database;
        this.producer = producer;
        this.problem = problem;
    }

    public void start() {
        thread.start();
    }

    /** Whether its thread runs. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    /** Something was committed; look at once. */
    public void wake() {
        work.release();
    }

    /**
     * Waits until what waits for a topic now is in Kafka.
     *
     * @return whether it is
     */
    public boolean awaitPublished(String topic, Duration limit) throws InterruptedException {
        long until = System.nanoTime() + limit.toNanos();
        long newest = database.jdbi().withHandle(handle -> Outbox.newest(handle, topic));
        while (newest > 0 && database.jdbi().withHandle(handle -> Outbox.waits(handle, topic, newest))) {
            if (System.nanoTime() >= until) {
                return false;
            }
            TimeUnit.MILLISECONDS.sleep(LOOK_MILLIS);
        }
        return true;
    }

    private void run() {
        try {
            while (!stopping) {
                boolean more = publishOrComplain();
                if (!more && work.tryAcquire(IDLE_MILLIS, TimeUnit.MILLISECONDS)) {
                    work.drainPermits();
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Returns whether more is likely to wait. */
    private boolean publishOrComplain() throws InterruptedException {
        try {
            Round round = database.jdbi()
                    .inTransaction(handle -> Outbox.lockForPublishing(handle) ? publish(handle) : Round.IDLE);
            problem.accept(round.held().isEmpty() ? "" : "Kafka did not take records of " + some(round.held()));
            return round.more();
        } catch (RuntimeException e) {
            problem.accept(String.valueOf(e.getMessage()));
            LOG.warn("the outbox waits: {}", e.toString());
            return false;
        }
    }

    private static String some(Set<String> keys) {
        return keys.stream().limit(3).collect(Collectors.joining(", ")) + (keys.size() > 3 ? " and others" : "");
    }

    /**
     * What one look at the outbox came to.
     *
     * @param held keys whose records wait for another attempt
     */
    private record Round(boolean more, Set<String> held) {
        static final Round IDLE = new Round(false, Set.of());
    }

    private Round publish(Handle handle) throws InterruptedException {
        List<Waiting> waiting = Outbox.oldest(handle, BATCH);
        List<Long> sent = new ArrayList<>();
        Set<String> held = new TreeSet<>();
        // Ingest lets a machine's readings in by the register: the sites' logs have the machine before that.
        publish(waiting.stream().filter(row -> !isOfRegister(row)).toList(), sent, held);
        List<Waiting> register =
                waiting.stream().filter(OutboxPublisher::isOfRegister).toList();
        if (held.isEmpty()) {
            publish(register, sent, held);
        } else {
            register.forEach(row -> held.add(keyOf(row)));
        }
        if (!sent.isEmpty()) {
            Outbox.remove(handle, sent);
        }
        return new Round(held.isEmpty() && waiting.size() == BATCH, held);
    }

    private void publish(List<Waiting> rows, List<Long> sent, Set<String> held) throws InterruptedException {
        List<Future<RecordMetadata>> sends = send(rows);
        producer.flush();
        for (int i = 0; i < rows.size(); i++) {
            String key = keyOf(rows.get(i));
            if (i < sends.size() && arrived(sends.get(i), key) && !held.contains(key)) {
                sent.add(rows.get(i).id());
            } else {
                held.add(key);
            }
        }
    }

    private static boolean isOfRegister(Waiting row) {
        return row.topic().equals(Topics.REGISTRY);
    }

    private static String keyOf(Waiting row) {
        return row.topic() + ' ' + row.key();
    }

    /** Sends until one fails at once: when Kafka is gone, each further attempt would block for seconds. */
    private List<Future<RecordMetadata>> send(List<Waiting> waiting) throws InterruptedException {
        List<Future<RecordMetadata>> sends = new ArrayList<>();
        for (Waiting row : waiting) {
            Future<RecordMetadata> send = producer.send(record(row));
            sends.add(send);
            if (send.isDone() && !arrived(send, keyOf(row))) {
                break;
            }
        }
        return sends;
    }

    private static ProducerRecord<byte[], byte[]> record(Waiting row) {
        ProducerRecord<byte[], byte[]> record = new ProducerRecord<>(
                row.topic(),
                row.key().getBytes(StandardCharsets.UTF_8),
                row.value().orElse(null));
        if (row.topic().equals(Topics.ALERTS)) {
            record.headers().add("content-type", CLOUD_EVENT);
        }
        return record;
    }

    private static boolean arrived(Future<RecordMetadata> send, String key) throws InterruptedException {
        try {
            send.get();
            return true;
        } catch (ExecutionException e) {
            LOG.warn("{} was not taken by Kafka: {}", key, String.valueOf(e.getCause()));
            return false;
        }
    }

    @Override
    public void close() {
        stopping = true;
        work.release();
        try {
            thread.join(CLOSE_LIMIT_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            thread.interrupt();
        }
    }
}
