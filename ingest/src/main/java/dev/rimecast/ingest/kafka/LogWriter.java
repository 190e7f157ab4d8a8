package dev.rimecast.ingest.kafka;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Store;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.errors.RetriableException;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Writes to Kafka from one thread of its own. {@code send} may wait for metadata while Kafka is away; no event loop
 * ever does. What {@code send} would not take is offered again until it does, in order; what it took and Kafka did not
 * confirm within the delivery timeout is reported as not stored, since nobody can know.
 *
 * <p>Memory is bounded by {@link InFlight}, as long as callers heed {@link #isFull()}.
 */
public final class LogWriter implements Store, AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(LogWriter.class);
    private static final Duration CLOSE_TIMEOUT = Duration.ofSeconds(5);

    /** Everything that one message caused. */
    private final class Job {
        private final List<ProducerRecord<byte[], byte[]>> records;
        private final long sizeBytes;
        private final Consumer<Boolean> done;
        private final AtomicInteger open;
        private volatile boolean failed;

        Job(List<ProducerRecord<byte[], byte[]>> records, Consumer<Boolean> done) {
            this.records = records;
            this.sizeBytes = records.stream().mapToLong(Records::sizeBytes).sum();
            this.done = done;
            this.open = new AtomicInteger(records.size());
        }

        void answered(@Nullable Exception problem) {
            if (problem != null) {
                failed = true;
                log.warn("a write was not confirmed: {}", problem.toString());
            }
            if (open.decrementAndGet() == 0) {
                finish();
            }
        }

        /** Whoever is told must not be able to hurt the producer's thread, on which this runs. */
        private void finish() {
            try {
                inFlight.remove(sizeBytes);
                done.accept(!failed);
            } catch (RuntimeException e) {
                log.error("an answer could not be delivered", e);
            }
        }
    }

    private final Producer<byte[], byte[]> producer;
    private final InFlight inFlight;
    private final LinkedBlockingQueue<Job> queue = new LinkedBlockingQueue<>();
    private final Job end = new Job(List.of(), unused -> {});
    private final Thread thread;
    private volatile boolean closing;

    LogWriter(Producer<byte[], byte[]> producer, InFlight inFlight) {
        this.producer = producer;
        this.inFlight = inFlight;
        this.thread = new Thread(this::run, "ingest-writer");
        thread.setDaemon(true);
        thread.start();
    }

    /**
     * Starts without waiting for Kafka.
     *
     * @param maxMessages under way at most
     * @param maxBytes under way at most
     */
    public static LogWriter start(Map<String, String> kafka, Duration deliveryTimeout, int maxMessages, long maxBytes) {
        var config = ClientConfig.producer(kafka, deliveryTimeout, maxBytes * 2 + (32 << 20));
        return new LogWriter(new KafkaProducer<>(config), new InFlight(maxMessages, maxBytes, System::nanoTime));
    }

    @Override
    public void store(Decision decision, Consumer<Boolean> done) {
        write(decision.writes().stream().map(Records::of).toList(), done);
    }

    void write(List<ProducerRecord<byte[], byte[]>> records, Consumer<Boolean> done) {
        if (records.isEmpty()) {
            done.accept(true);
            return;
        }
        if (closing) {
            done.accept(false);
            return;
        }
        Job job = new Job(records, done);
        inFlight.add(job.sizeBytes);
        queue.add(job);
    }

    /** Partitions of a topic; waits for Kafka up to two seconds. */
    int partitions(String topic) {
        return producer.partitionsFor(topic).size();
    }

    @Override
    public boolean isFull() {
        return inFlight.isFull();
    }

    @Override
    public void onRoom(Runnable listener) {
        inFlight.onRoom(listener);
    }

    /** Whether its thread runs. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    /** Messages not confirmed yet. */
    public int messagesInFlight() {
        return inFlight.messages();
    }

    /** Bytes not confirmed yet. */
    public long bytesInFlight() {
        return inFlight.bytes();
    }

    /** How long Kafka has confirmed nothing although something waits for it. */
    public Duration stalledFor() {
        return inFlight.stalledFor();
    }

    private void run() {
        try {
            for (Job job = queue.take(); job != end; job = queue.take()) {
                for (ProducerRecord<byte[], byte[]> kafkaRecord : job.records) {
                    hand(kafkaRecord, job);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Offers one record until the producer takes it or says that it never will. */
    private void hand(ProducerRecord<byte[], byte[]> kafkaRecord, Job job) {
        Optional<Exception> refusal = offer(kafkaRecord, job);
        while (refusal.isPresent() && refusal.get() instanceof RetriableException && !closing) {
            refusal = offer(kafkaRecord, job);
        }
        refusal.ifPresent(job::answered);
    }

    /**
     * One call of {@code send}.
     *
     * @return why the record was not taken; empty: it was, and the job will be told
     */
    private Optional<Exception> offer(ProducerRecord<byte[], byte[]> kafkaRecord, Job job) {
        AtomicReference<@Nullable Exception> refusal = new AtomicReference<>();
        try {
            // A callback on this thread comes from inside send: the record never got into the buffer.
            var unused = producer.send(kafkaRecord, (metadata, problem) -> {
                if (problem != null && Thread.currentThread() == thread) {
                    refusal.set(problem);
                } else {
                    job.answered(problem);
                }
            });
        } catch (RuntimeException problem) {
            refusal.set(problem);
        }
        return Optional.ofNullable(refusal.get());
    }

    /** Gives what is under way a few seconds; what is not confirmed by then is reported as not stored. */
    @Override
    public void close() {
        closing = true;
        queue.add(end);
        try {
            thread.join(CLOSE_TIMEOUT.toMillis());
            thread.interrupt();
            thread.join(CLOSE_TIMEOUT.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        producer.close(CLOSE_TIMEOUT);
        for (Job job = queue.poll(); job != null; job = queue.poll()) {
            for (int i = 0; i < job.records.size(); i++) {
                job.answered(new IllegalStateException("ingest is closing"));
            }
        }
    }
}
