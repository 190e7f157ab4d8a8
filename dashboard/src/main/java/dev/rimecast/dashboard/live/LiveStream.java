package dev.rimecast.dashboard.live;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/**
 * Writes one screen's outbox as {@code text/event-stream} (WHATWG HTML section 9.2) until either side ends it. A comment
 * every 15 s keeps proxies from closing the connection and finds out that a screen has gone.
 */
final class LiveStream {
    private static final Duration HEARTBEAT = Duration.ofSeconds(15);
    private static final Duration PAUSE = Duration.ofMillis(200);

    private final LiveHub hub;
    private final Outbox outbox;
    private final Supplier<String> clock;
    private final OutputStream out;
    private final BooleanSupplier stillAllowed;

    /**
     * @param clock the data of a {@code clock} event as of now
     * @param stillAllowed asked before anything is sent; the stream ends where it says no
     */
    LiveStream(LiveHub hub, Outbox outbox, Supplier<String> clock, OutputStream out, BooleanSupplier stillAllowed) {
        this.hub = hub;
        this.outbox = outbox;
        this.clock = clock;
        this.out = out;
        this.stillAllowed = stillAllowed;
    }

    void run() throws IOException {
        try {
            write("retry: 3000\n\n" + clockEvent());
            Duration pause = Duration.ZERO;
            while (writeNext(outbox.take(pause, HEARTBEAT))) {
                pause = PAUSE;
            }
        } catch (InterruptedException stopping) {
            Thread.currentThread().interrupt();
        } finally {
            hub.leave(outbox);
        }
    }

    private boolean writeNext(Outbox.Next next) throws IOException {
        if (!stillAllowed.getAsBoolean()) {
            return false;
        }
        if (next instanceof Outbox.Next.Send send) {
            StringBuilder text = new StringBuilder();
            send.events().forEach(event -> append(text, event));
            write(text.toString());
        } else if (next instanceof Outbox.Next.Reset reset) {
            write("id: " + hub.idOf(reset.upTo()) + "\nevent: reset\ndata: {}\n\n");
        } else if (next instanceof Outbox.Next.Quiet) {
            write(": still here\n\n" + clockEvent());
        } else {
            return false;
        }
        return true;
    }

    private String clockEvent() {
        return "event: clock\ndata: " + clock.get() + "\n\n";
    }

    private void append(StringBuilder text, LiveEvent event) {
        if (event.number() > 0) {
            text.append("id: ").append(hub.idOf(event.number())).append('\n');
        }
        text.append("event: ").append(event.kind()).append("\ndata: ");
        text.append(event.data()).append("\n\n");
    }

    private void write(String text) throws IOException {
        out.write(text.getBytes(StandardCharsets.UTF_8));
        out.flush();
    }
}
