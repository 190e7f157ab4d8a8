package dev.rimecast.ingest.kafka;

import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicBoolean;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.errors.InterruptException;

/** Many writes of one caller that wants to know when all are stored; a bounded number of them at a time. */
final class Confirmations {
    /** Few, so that what gateways send now finds room beside it. */
    private static final int WINDOW = 100;

    private final LogWriter writer;
    private final Semaphore window = new Semaphore(WINDOW);
    private final AtomicBoolean hasFailed = new AtomicBoolean();

    Confirmations(LogWriter writer) {
        this.writer = writer;
    }

    void write(ProducerRecord<byte[], byte[]> kafkaRecord) {
        acquire(1);
        writer.write(List.of(kafkaRecord), isStored -> {
            if (!isStored) {
                hasFailed.set(true);
            }
            window.release();
        });
    }

    /**
     * Waits for all writes so far.
     *
     * @throws IllegalStateException if one was not confirmed
     */
    void await() {
        acquire(WINDOW);
        window.release(WINDOW);
        if (hasFailed.get()) {
            throw new IllegalStateException("a write of claimed readings was not confirmed");
        }
    }

    private void acquire(int permits) {
        try {
            window.acquire(permits);
        } catch (InterruptedException e) {
            throw new InterruptException(e);
        }
    }
}
