package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.BitSet;
import java.util.Optional;

/**
 * Which numbered packs of one boot of a gateway have been seen: everything up to a number, and a bit each for the next
 * {@value #AHEAD}. A pack that does not come leaves a gap, and what is seen without a gap does not grow while it is
 * open. Two things close a gap that its pack does not: {@value #GAP_MINUTES} minutes in which the gateway was heard
 * and did not send it, and a number too far ahead, since waiting for ever would make the memory unbounded. What is
 * passed over then counts as seen, so that it can't come later than what follows from it.
 *
 * <p>A minute in which the gateway is not heard does not count: a gateway sends again what is not acknowledged when its
 * line is back, and must not be told to delete it before.
 */
final class PackLedger {
    static final int AHEAD = 1024;
    static final int GAP_MINUTES = 10;

    /** Numbers passed over, the first and the last, and how many between them have not come. */
    record Passed(long from, long to, long missing) {}

    /** What a pack was: new or not, and what it made the ledger pass over. */
    record Taken(boolean isNew, Optional<Passed> passed) {
        private static final Taken NEW = new Taken(true, Optional.empty());
        private static final Taken REPEATED = new Taken(false, Optional.empty());
    }

    private final String boot;
    private long contiguous;
    private BitSet ahead = new BitSet();
    private long missing;
    private int openMinutes;

    PackLedger(String boot) {
        this.boot = boot;
    }

    Taken take(long seq) {
        long offset = seq - contiguous - 1;
        if (offset < 0) {
            return Taken.REPEATED;
        }
        if (offset >= AHEAD) {
            Optional<Passed> passed = passOver(offset - AHEAD + 1);
            note((int) (seq - contiguous - 1));
            return new Taken(true, passed);
        }
        if (ahead.get((int) offset)) {
            return Taken.REPEATED;
        }
        note((int) offset);
        return Taken.NEW;
    }

    private void note(int offset) {
        ahead.set(offset);
        if (offset == 0) {
            advance(ahead.nextClearBit(0));
        }
    }

    /**
     * A minute has passed.
     *
     * @param wasHeard whether a pack of the gateway came in it
     */
    Optional<Passed> minute(boolean wasHeard) {
        if (!hasGap() || !wasHeard) {
            return Optional.empty();
        }
        openMinutes++;
        return openMinutes < GAP_MINUTES ? Optional.empty() : passOver(ahead.nextSetBit(0));
    }

    /** Gives up what is missing of the next {@code by} numbers, and goes on to the next gap. */
    private Optional<Passed> passOver(long by) {
        long from = contiguous + 1;
        long came = ahead.get(0, (int) Math.min(by, AHEAD)).cardinality();
        advance(by);
        Optional<Passed> passed = by > came ? Optional.of(new Passed(from, contiguous, by - came)) : Optional.empty();
        missing += by - came;
        advance(ahead.nextClearBit(0));
        return passed;
    }

    private void advance(long by) {
        contiguous += by;
        ahead = by >= AHEAD ? new BitSet() : ahead.get((int) by, Math.max((int) by, ahead.length()));
        openMinutes = 0;
    }

    /** Whether a pack has come and one before it has not. */
    boolean hasGap() {
        return !ahead.isEmpty();
    }

    /** All up to here have been seen or given up; 0: none. */
    long contiguous() {
        return contiguous;
    }

    /** How many were given up. */
    long missing() {
        return missing;
    }

    String boot() {
        return boot;
    }

    void save(StateWriter out) {
        long[] words = ahead.toLongArray();
        out.text(boot).whole(contiguous).whole(missing).whole(openMinutes).whole(words.length);
        for (long word : words) {
            out.whole(word);
        }
    }

    static PackLedger restore(StateReader in) {
        PackLedger ledger = new PackLedger(in.text());
        ledger.contiguous = in.whole();
        ledger.missing = in.whole();
        ledger.openMinutes = in.wholeInt();
        ledger.ahead = bits(in);
        return ledger;
    }

    /** Of a site's state before version 4. */
    static PackLedger restoreOld(StateReader in) {
        PackLedger ledger = new PackLedger(in.text());
        ledger.contiguous = in.whole();
        ledger.ahead = bits(in);
        return ledger;
    }

    private static BitSet bits(StateReader in) {
        long[] words = new long[in.wholeInt()];
        for (int i = 0; i < words.length; i++) {
            words[i] = in.whole();
        }
        return BitSet.valueOf(words);
    }
}
