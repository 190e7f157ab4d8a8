package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BooleanSupplier;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import org.apache.kafka.common.KafkaException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Lets time pass in the sites' logs: one tick a minute to every partition. None while Kafka is away, ingest is
 * behind, or the disk is full, so that our own outage never looks like the silence of a machine. A clock that jumped several minutes gets
 * one tick, with the minute that it shows now.
 *
 * <p>Ticks go through the same writer as packs: what was received before a tick is stored before it. Called from one
 * thread at a time.
 */
public final class Ticker {
    /** Behind: nothing has been confirmed for so long although something waits. Well above a slow flush to disk. */
    private static final Duration BEHIND = Duration.ofSeconds(10);

    private static final Logger log = LoggerFactory.getLogger(Ticker.class);

    private final LogWriter writer;
    private final BooleanSupplier isClosed;
    private final InstantSource clock;
    private final IntPredicate isOurs;
    private final AtomicBoolean isUnderWay = new AtomicBoolean();
    private Instant last;

    /**
     * The first tick is that of the next whole minute.
     *
     * @param isClosed whether nothing is taken in: then no time passes either
     */
    public Ticker(LogWriter writer, BooleanSupplier isClosed, InstantSource clock) {
        this(writer, isClosed, clock, every -> true);
    }

    /** @param isOurs whether a partition's ticks are for this instance to write: two that did would make time run twice as fast */
    public Ticker(LogWriter writer, BooleanSupplier isClosed, InstantSource clock, IntPredicate isOurs) {
        this.writer = writer;
        this.isClosed = isClosed;
        this.clock = clock;
        this.isOurs = isOurs;
        this.last = minuteNow();
    }

    /**
     * Writes a tick where a minute has begun since the last one and ingest keeps up. May wait two seconds for Kafka.
     *
     * @return whether it did
     */
    public boolean tickIfDue() {
        Instant minute = minuteNow();
        if (!minute.isAfter(last) || isBehind()) {
            return false;
        }
        int partitions;
        try {
            partitions = writer.partitions(Topics.SITES);
        } catch (KafkaException away) {
            log.debug("no tick: {}", away.toString());
            return false;
        }
        last = minute;
        var ticks = IntStream.range(0, partitions)
                .filter(isOurs)
                .mapToObj(partition -> Records.tick(partition, minute))
                .toList();
        if (ticks.isEmpty()) {
            return false;
        }
        isUnderWay.set(true);
        writer.write(List.copyOf(ticks), isStored -> isUnderWay.set(false));
        return true;
    }

    private boolean isBehind() {
        return isClosed.getAsBoolean()
                || isUnderWay.get()
                || writer.isFull()
                || writer.stalledFor().compareTo(BEHIND) > 0;
    }

    private Instant minuteNow() {
        return clock.instant().truncatedTo(ChronoUnit.MINUTES);
    }
}
