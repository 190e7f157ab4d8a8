package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.log.PackNumber;
import java.util.BitSet;

/**
 * Which numbered packs of one gateway have been seen: everything up to a number, and a bit each for the next
 * {@value #AHEAD}. A number far ahead moves the window; what it passes over is taken as seen, since waiting for it for
 * ever would make the memory unbounded.
 */
final class PackLedger {
    static final int AHEAD = 1024;

    private String boot = "";
    private long contiguous;
    private BitSet ahead = new BitSet();

    /** Returns whether the pack is new. */
    boolean isNew(PackNumber number) {
        if (!number.boot().equals(boot)) {
            boot = number.boot();
            contiguous = 0;
            ahead = new BitSet();
        }
        long offset = number.seq() - contiguous - 1;
        if (offset < 0) {
            return false;
        }
        if (offset >= AHEAD) {
            shift(offset - AHEAD + 1);
            offset = AHEAD - 1;
        }
        if (ahead.get((int) offset)) {
            return false;
        }
        ahead.set((int) offset);
        shift(ahead.nextClearBit(0));
        return true;
    }

    private void shift(long by) {
        contiguous += by;
        ahead = by >= AHEAD ? new BitSet() : ahead.get((int) by, Math.max((int) by, ahead.length()));
    }

    void save(StateWriter out) {
        long[] words = ahead.toLongArray();
        out.text(boot).whole(contiguous).whole(words.length);
        for (long word : words) {
            out.whole(word);
        }
    }

    static PackLedger restore(StateReader in) {
        PackLedger ledger = new PackLedger();
        ledger.boot = in.text();
        ledger.contiguous = in.whole();
        long[] words = new long[in.wholeInt()];
        for (int i = 0; i < words.length; i++) {
            words[i] = in.whole();
        }
        ledger.ahead = BitSet.valueOf(words);
        return ledger;
    }
}
