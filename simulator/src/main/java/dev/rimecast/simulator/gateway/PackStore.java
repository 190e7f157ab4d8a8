package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.log.PackNumber;
import java.util.Optional;

/**
 * The packs of a gateway that may have to be sent again, in the order of their numbers. One thread at a time.
 *
 * <p>Conservation: added = kept + deleted because they were covered + given up.
 */
public interface PackStore extends AutoCloseable {
    /** One message, with its number. */
    @SuppressWarnings("ArrayRecordComponent") // a payload is handed on, never compared
    record Numbered(long seq, byte[] payload) {}

    /** The word that begins this count. */
    String boot();

    /** Keeps a pack and gives it the next number. */
    long add(byte[] payload);

    /** Returns when what was added so far survives whatever this store is to survive; nothing is sent before. */
    void settle();

    /** The first pack that is kept with a number above {@code seq}. */
    Optional<Numbered> after(long seq);

    /** The receipt of a pack: whoever is next on its way has it. */
    void receipt(long seq);

    /** Packs up to here are stored for good. Of another boot, nothing happens. */
    void covered(PackNumber upTo);

    /** Whether packs stay until they are covered; otherwise their receipt is enough. */
    boolean waitsForCover();

    /** Packs that are kept. */
    int size();

    /** The highest number given so far; 0: none. */
    long lastSeq();

    @Override
    void close();
}
