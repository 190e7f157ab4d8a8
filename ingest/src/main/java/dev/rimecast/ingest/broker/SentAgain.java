package dev.rimecast.ingest.broker;

import dev.rimecast.telemetry.log.PackNumber;
import java.time.Duration;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Keeps the door shut for packs far ahead of what is covered, while one that was let go is missing. Analytics gives up a gap when a pack comes more than
 * 1,024 ahead, and tells the gateway then that all is stored: its store would lose what nobody has. As in go-back-N, the receiver keeps nothing
 * that is out of its window, which begins where the acknowledgement ends that every instance of ingest reads.
 *
 * <p>It opens again when all that was let go is covered. After a start one does not know what was let go before, here or at another instance, so it is shut
 * until a number comes that follows what is covered, and so has no gap before it. What it can't know is what another instance lets go while this one
 * is open: that is a matter of chance where instances are given unevenly.
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

    private final Supplier<Optional<PackNumber>> acknowledged;
    private String boot = "";
    /** Whether something before may be missing that this instance knows nothing of. */
    private boolean isUnsure;
    /** The last that was let go; 0: none that is still missing. */
    private long letGo;
    /** When the gateway began to send again, or the first was let go. */
    private long since;

    /** @param acknowledged what the gateway was told last, of any boot */
    SentAgain(Supplier<Optional<PackNumber>> acknowledged) {
        this.acknowledged = acknowledged;
    }

    /** Whether a pack may be taken, for all that is missing before it. */
    boolean mayCome(PackNumber number, long now) {
        Optional<PackNumber> told =
                acknowledged.get().filter(upTo -> upTo.boot().equals(number.boot()));
        // A boot of which nothing was acknowledged is counted from 1.
        long covered = told.map(PackNumber::seq).orElse(0L);
        if (!boot.equals(number.boot())) {
            boot = number.boot();
            isUnsure = told.isPresent();
            letGo = 0;
            since = now;
        }
        boolean isNext = number.seq() <= covered + 1;
        if (isNext) {
            isUnsure = false;
        }
        if (covered >= letGo) {
            letGo = 0;
        }
        if (!isShut()) {
            return true;
        }
        if (now - since > LONGEST.toNanos()) {
            isUnsure = false;
            letGo = 0;
            return true;
        }
        if (isNext) {
            since = now;
        }
        return number.seq() <= covered + AHEAD;
    }

    private boolean isShut() {
        return isUnsure || letGo > 0;
    }

    /** A pack was not taken, because it may not come or because there are too many. After {@link #mayCome}. */
    void letGo(PackNumber number, long now) {
        if (!isShut()) {
            since = now;
        }
        letGo = Math.max(letGo, number.seq());
    }
}
