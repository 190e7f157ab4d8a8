package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.OffsetStore;
import dev.rimecast.alerts.store.OffsetStore.Position;
import dev.rimecast.alerts.view.Changes.Change;
import io.micrometer.core.instrument.MeterRegistry;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.function.Supplier;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.consumer.CloseOptions;
import org.apache.kafka.clients.consumer.CloseOptions.GroupMembershipOperation;
import org.apache.kafka.clients.consumer.Consumer;
import org.apache.kafka.clients.consumer.ConsumerRebalanceListener;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.errors.WakeupException;
import org.jdbi.v3.core.Handle;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads one topic into the database until it is closed: each batch in one transaction with the offset that it reaches.
 * Received = taken in + dead letters; nothing is left out.
 *
 * <p>A batch that fails because of its content is halved until the record is found that can't be taken in; that one
 * goes to the dead letters. When database or Kafka are gone, the same batch is tried again with growing pauses. When
 * another instance was faster, or Kafka's consumer fails, reading starts anew from the database's offsets.
 *
 * @param <T> what a record holds
 */
final class TopicReader<T> implements Runnable, AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(TopicReader.class);
    private static final Duration POLL = Duration.ofMillis(500);
    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(5);

    private final Supplier<Consumer<byte[], byte[]>> consumers;
    /** Whether the others of the group get our partitions at once when we stop: only where there are several of us. */
    private final GroupMembershipOperation atTheEnd;

    private final Database database;
    private final TopicHandler<T> handler;
    private final Placement placement;
    private final DeadLetters deadLetters;
    private final ChangeFeed changes;
    private final StageHealth health;
    private final ReaderMeter meter;
    private final CountDownLatch stop = new CountDownLatch(1);
    private final Backoff backoff = new Backoff(stop);
    private final Map<TopicPartition, Position> positions = new HashMap<>();
    private final Thread thread;
    private final String part;

    private volatile Runnable wakeup = () -> {};
    /** Whether the group has told us which partitions we have, if only that we have none. */
    private boolean hasBeenAssigned;

    TopicReader(
            Supplier<Consumer<byte[], byte[]>> consumers,
            GroupMembershipOperation atTheEnd,
            Admin admin,
            Database database,
            TopicHandler<T> handler,
            DeadLetters deadLetters,
            ChangeFeed changes,
            StageHealth health,
            MeterRegistry meters) {
        this.consumers = consumers;
        this.atTheEnd = atTheEnd;
        this.database = database;
        this.handler = handler;
        this.placement = new Placement(database, admin, handler.topic());
        this.deadLetters = deadLetters;
        this.changes = changes;
        this.health = health;
        this.part = "topic " + handler.topic();
        this.meter = new ReaderMeter(meters, handler.topic());
        this.thread = new Thread(this, "alerts-" + handler.topic());
    }

    void start() {
        thread.start();
    }

    @Override
    public void run() {
        try {
            do {
                readUntilItFails();
            } while (backoff.pause());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (Error e) {
            health.fails(part, "has ended: " + e);
            LOG.error("reading {} has ended for good", handler.topic(), e);
            throw e;
        }
    }

    private void readUntilItFails() throws InterruptedException {
        Consumer<byte[], byte[]> consumer = consumers.get();
        hasBeenAssigned = false;
        try {
            wakeup = consumer::wakeup;
            meter.reading(consumer);
            consumer.subscribe(List.of(handler.topic()), new Assignment(consumer));
            while (stop.getCount() > 0) {
                List<ConsumerRecord<byte[], byte[]>> batch = new ArrayList<>();
                consumer.poll(POLL).forEach(batch::add);
                takeAll(batch);
                if (consumer.assignment().isEmpty() && !hasNoneSinceOthersHaveAll(consumer)) {
                    health.fails(part, "Kafka has not assigned partitions yet");
                } else {
                    health.works(part);
                }
            }
        } catch (WakeupException e) {
            LOG.debug("{} woken up to stop", part);
        } catch (RuntimeException e) {
            if (stop.getCount() > 0) {
                health.fails(part, String.valueOf(e.getMessage()));
                LOG.warn("reading {} failed, starting anew: {}", handler.topic(), e.toString());
            }
        } finally {
            wakeup = () -> {};
            meter.reading(null);
            consumer.close(CloseOptions.groupMembershipOperation(
                    stop.getCount() == 0 ? atTheEnd : GroupMembershipOperation.DEFAULT));
            handler.forget();
        }
    }

    /** A topic may have fewer partitions than there are instances: who is in the group and gets none has nothing to do. */
    private boolean hasNoneSinceOthersHaveAll(Consumer<?, ?> consumer) {
        return hasBeenAssigned
                && atTheEnd == GroupMembershipOperation.LEAVE_GROUP
                && !consumer.partitionsFor(handler.topic()).isEmpty();
    }

    /** In transactions of as many as the handler bears; a stop leaves the rest to the next start. */
    private void takeAll(List<ConsumerRecord<byte[], byte[]>> batch) throws InterruptedException {
        int most = handler.mostAtOnce();
        for (int from = 0; from < batch.size() && stop.getCount() > 0; from += Math.min(most, batch.size() - from)) {
            take(batch.subList(from, from + Math.min(most, batch.size() - from)));
        }
    }

    /** Takes a batch in, however long it lasts; only a stop or another instance ends it early. */
    private void take(List<ConsumerRecord<byte[], byte[]>> batch) throws InterruptedException {
        while (true) {
            try {
                commit(batch);
                backoff.reset();
                return;
            } catch (RuntimeException e) {
                handler.forget();
                switch (Failure.of(e)) {
                    case MOVED -> throw e;
                    case POISON -> {
                        if (batch.size() > 1) {
                            take(batch.subList(0, batch.size() / 2));
                            take(batch.subList(batch.size() / 2, batch.size()));
                            return;
                        }
                        bury(batch.get(0), e);
                        return;
                    }
                    case PASSING -> pause(e);
                }
            }
        }
    }

    private void commit(List<ConsumerRecord<byte[], byte[]>> batch) {
        List<T> decoded = new ArrayList<>(batch.size());
        for (ConsumerRecord<byte[], byte[]> each : batch) {
            decoded.add(handler.decode(
                    text(each.key()), each.value() == null ? new byte[0] : each.value(), each.headers()));
        }
        Map<TopicPartition, Long> reached = reached(batch);
        Collection<Change> changed = database.jdbi().inTransaction(handle -> {
            if (handler.canBeReadAgain()) {
                handle.execute("set local synchronous_commit = off");
            }
            advance(handle, reached);
            return handler.apply(handle, decoded);
        });
        moveOn(reached);
        handler.committed();
        meter.taken(batch.size());
        changes.publish(changed);
    }

    private void bury(ConsumerRecord<byte[], byte[]> letter, RuntimeException reason) throws InterruptedException {
        while (true) {
            try {
                deadLetters.send(letter, reason);
                Map<TopicPartition, Long> reached = reached(List.of(letter));
                database.jdbi().useTransaction(handle -> advance(handle, reached));
                moveOn(reached);
                meter.dead();
                return;
            } catch (RuntimeException e) {
                if (Failure.of(e) == Failure.MOVED) {
                    throw e;
                }
                pause(e);
            }
        }
    }

    private void pause(RuntimeException failure) throws InterruptedException {
        health.fails(part, String.valueOf(failure.getMessage()));
        LOG.warn("{} waits: {}", part, failure.toString());
        if (!backoff.pause()) {
            throw new KafkaException("stopped while waiting", failure);
        }
    }

    private static Map<TopicPartition, Long> reached(List<ConsumerRecord<byte[], byte[]>> batch) {
        Map<TopicPartition, Long> reached = new HashMap<>();
        batch.forEach(each -> reached.put(new TopicPartition(each.topic(), each.partition()), each.offset() + 1));
        return reached;
    }

    private void advance(Handle handle, Map<TopicPartition, Long> reached) {
        reached.forEach((partition, next) ->
                OffsetStore.advance(handle, handler.topic(), partition.partition(), position(partition), next));
    }

    private void moveOn(Map<TopicPartition, Long> reached) {
        reached.forEach((partition, next) ->
                positions.put(partition, new Position(position(partition).topicId(), next)));
    }

    private Position position(TopicPartition partition) {
        Position position = positions.get(partition);
        if (position == null) {
            throw new KafkaException(partition + " is not ours");
        }
        return position;
    }

    private static String text(byte[] key) {
        return key == null ? "" : new String(key, StandardCharsets.UTF_8);
    }

    /** Whether its thread runs. */
    boolean isAlive() {
        return thread.isAlive();
    }

    /** Asks it to stop and returns at once. */
    void beginClose() {
        stop.countDown();
        wakeup.run();
    }

    @Override
    public void close() {
        beginClose();
        try {
            thread.join(CLOSE_LIMIT.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            // A statement may hang on a server that is gone; nothing is lost, its transaction is rolled back.
            thread.interrupt();
        }
    }

    /** Partitions that come begin where the database says. */
    private final class Assignment implements ConsumerRebalanceListener {
        private final Consumer<?, ?> consumer;

        Assignment(Consumer<?, ?> consumer) {
            this.consumer = consumer;
        }

        @Override
        public void onPartitionsAssigned(Collection<TopicPartition> partitions) {
            handler.forget();
            hasBeenAssigned = true;
            positions.putAll(placement.place(consumer, partitions));
        }

        @Override
        public void onPartitionsRevoked(Collection<TopicPartition> partitions) {
            hasBeenAssigned = false;
            partitions.forEach(positions::remove);
            handler.forget();
        }
    }
}
