package dev.rimecast.ingest.ack;

import dev.rimecast.telemetry.log.PackNumber;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Tells one gateway. One message is under way at a time, and only the newest waits behind it: an acknowledgement
 * covers those before it, and a gateway that does not answer holds no more than two numbers here. One thread.
 */
public final class AckOutlet {
    private final Consumer<PackNumber> send;
    private Optional<PackNumber> next = Optional.empty();
    private boolean isUnderWay;

    /** @param send hands one on; {@link #arrived()} says that it has come there */
    public AckOutlet(Consumer<PackNumber> send) {
        this.send = send;
    }

    public void tell(PackNumber upTo) {
        next = Optional.of(upTo);
        sendNext();
    }

    /** What was sent last has come there. */
    public void arrived() {
        isUnderWay = false;
        sendNext();
    }

    private void sendNext() {
        if (!isUnderWay && next.isPresent()) {
            PackNumber upTo = next.get();
            next = Optional.empty();
            isUnderWay = true;
            send.accept(upTo);
        }
    }
}
