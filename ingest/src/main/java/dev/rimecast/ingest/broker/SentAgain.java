package dev.rimecast.ingest.broker;

import dev.rimecast.telemetry.log.PackNumber;
import java.time.Duration;
import org.jspecify.annotations.Nullable;

/**
 * Keeps the door shut for packs far behind one that was let go, until that one comes again. Analytics gives up a gap when a pack comes more than
 * 1,024 ahead, and tells the gateway then that all is stored: its store would lose what nobody has. A gateway sends in the order of its numbers,
 * and again from the first that is not covered; so where its numbers go back, what is before is covered. As in go-back-N, the receiver
 * keeps nothing that is out of its window.
 *
 * <p>A gateway that sends nothing again is let in after {@link #LONGEST}; analytics counts what is missing then.
 *
 * <p>Of one gateway, and its newest boot. Not for use by several threads.
 */
final class SentAgain {
    /** Less than analytics waits for. */
    static final long AHEAD = 1_000;
    /** Longer than a gateway waits before it sends again, and than analytics waits for a gap. */
    static final Duration LONGEST = Duration.ofMinutes(15);

    /**
     * What was let go.
     *
     * @param first that is missing
     * @param last that was let go
     * @param since the gateway began to send again, or the first was let go
     */
    private record Gap(String boot, long first, long last, long since) {}

    private @Nullable Gap gap;
    private long newest;

    /** Whether a pack may be taken, for all that is missing before it. */
    boolean mayCome(PackNumber number, long now) {
        Gap known = gap;
        if (known == null) {
            return true;
        }
        if (!known.boot().equals(number.boot()) || now - known.since() > LONGEST.toNanos()) {
            gap = null;
            return true;
        }
        if (number.seq() <= newest) {
            gap = new Gap(known.boot(), number.seq(), known.last(), now);
            return true;
        }
        return number.seq() <= known.first() + AHEAD;
    }

    /** What became of it. */
    void note(PackNumber number, boolean isTaken, long now) {
        newest = number.seq();
        Gap before = gap;
        if (!isTaken) {
            gap = before == null
                    ? new Gap(number.boot(), number.seq(), number.seq(), now)
                    : new Gap(
                            before.boot(),
                            Math.min(before.first(), number.seq()),
                            Math.max(before.last(), number.seq()),
                            before.since());
        } else if (before != null && number.seq() == before.first()) {
            gap = before.first() == before.last()
                    ? null
                    : new Gap(before.boot(), before.first() + 1, before.last(), before.since());
        }
    }
}
