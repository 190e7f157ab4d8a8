package dev.rimecast.ingest.kafka;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Store;
import dev.rimecast.ingest.intake.Write;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import org.apache.kafka.clients.producer.Callback;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.clients.producer.RecordMetadata;
import org.apache.kafka.common.errors.RetriableException;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Writes to Kafka. {@code send} waits for nothing ({@code max.block.ms} is 0): whoever calls hands its records over by itself,
 * without another thread in between. What {@code send} would not take, because metadata or memory are not there, waits in
 * order, with everything that comes behind it, and a thread of this class's own offers it again until it is taken. What was
 * taken and Kafka did not confirm within the delivery timeout is reported as not stored, since nobody can know.
 *
 * <p>Memory is bounded by {@link InFlight}, as long as callers heed {@link #isFull()}.
 */
public final class LogWriter implements Store, AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(LogWriter.class);
    private static final Duration CLOSE_TIMEOUT = Duration.ofSeconds(5);
    /** Between two offers of what was not taken. */
    private static final Duration OFFER_AGAIN = Duration.ofMillis(20);

    /** Everything that one message caused. */
    private final class Job {
        private final List<ProducerRecord<byte[], byte[]>> records;
        private final long sizeBytes;
        private final Consumer<Boolean> done;
        private final AtomicInteger open;
        /** Of the records, the first that was not handed over yet; whoever holds the job's turn changes it. */
        private int next;

        private volatile boolean failed;

        Job(List<ProducerRecord<byte[], byte[]>> records, Consumer<Boolean> done) {
            this.records = records;
            long size = 0;
            for (ProducerRecord<byte[], byte[]> kafkaRecord : records) {
                size += Records.sizeBytes(kafkaRecord);
            }
            this.sizeBytes = size;
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
    private final Object turn = new Object();
    /** Jobs in the queue or being offered from it: while there is one, all that comes waits behind it. Under {@code turn}. */
    private int waiting;

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
        List<Write> writes = decision.writes();
        if (writes.size() == 1) {
            write(List.of(Records.of(writes.get(0))), done);
        } else {
            write(writes.stream().map(Records::of).toList(), done);
        }
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
        synchronized (turn) {
            if (waiting > 0 || !hand(job)) {
                waiting++;
                queue.add(job);
            }
        }
    }

    /**
     * Partitions of a topic.
     *
     * @throws org.apache.kafka.common.KafkaException if Kafka has not said so yet; it is asked
     */
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
                while (!hand(job)) {
                    LockSupport.parkNanos(OFFER_AGAIN.toNanos());
                }
                synchronized (turn) {
                    waiting--;
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /**
     * Offers the job's records, one call of {@code send} each.
     *
     * @return whether none is left; false: the next one can't be taken now, and should be offered again
     */
    private boolean hand(Job job) {
        while (job.next < job.records.size()) {
            Exception refusal = new Offer(job).make(job.records.get(job.next));
            if (refusal instanceof RetriableException && !closing) {
                return false;
            }
            job.next++;
            if (refusal != null) {
                job.answered(refusal);
            }
        }
        return true;
    }

    /** One call of {@code send}. */
    private final class Offer implements Callback {
        private final Job job;
        private final Thread caller = Thread.currentThread();
        /** Both are the caller's own. */
        private boolean isInside;

        private @Nullable Exception refusal;

        Offer(Job job) {
            this.job = job;
        }

        /** Why the record was not taken; null: it was, and the job will be told. */
        @Nullable
        Exception make(ProducerRecord<byte[], byte[]> kafkaRecord) {
            isInside = true;
            try {
                var unused = producer.send(kafkaRecord, this);
            } catch (RuntimeException problem) {
                refusal = problem;
            }
            isInside = false;
            return refusal;
        }

        @Override
        public void onCompletion(@Nullable RecordMetadata metadata, @Nullable Exception problem) {
            // What comes from inside send never got into the buffer.
            if (problem != null && Thread.currentThread() == caller && isInside) {
                refusal = problem;
            } else {
                job.answered(problem);
            }
        }
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
            for (int i = job.next; i < job.records.size(); i++) {
                job.answered(new IllegalStateException("ingest is closing"));
            }
        }
    }
}
