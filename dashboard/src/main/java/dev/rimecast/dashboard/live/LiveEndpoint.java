package dev.rimecast.dashboard.live;

import dev.rimecast.dashboard.access.StillIn;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.function.Supplier;

/** {@code GET /api/v1/events}. One thread per screen, so that one that reads slowly holds up nobody else. */
public final class LiveEndpoint implements AutoCloseable {
    private static final long LONGEST_GOODBYE_MILLIS = 500;

    private final LiveHub hub;
    private final Supplier<String> clock;
    private final Function<Context, StillIn> watch;
    private final ExecutorService writers;

    /**
     * @param clock the data of a {@code clock} event as of now
     * @param watch makes what knows whether a request's visitor may still come in
     */
    public LiveEndpoint(LiveHub hub, Supplier<String> clock, Function<Context, StillIn> watch) {
        this.hub = hub;
        this.clock = clock;
        this.watch = watch;
        AtomicInteger count = new AtomicInteger();
        this.writers = Executors.newCachedThreadPool(task -> {
            Thread thread = new Thread(task, "dashboard-live-" + count.incrementAndGet());
            thread.setDaemon(true);
            return thread;
        });
    }

    public void handle(Context ctx) {
        Set<String> kinds = Query.words(ctx, "kinds", LiveHub.kinds());
        StillIn stillIn = watch.apply(ctx);
        LiveFilter filter = new LiveFilter(stillIn.sites(), kinds, Query.id(ctx, "machine"));
        // a browser sends the header by itself; the parameter is for a page that opens the stream anew
        Optional<String> seen = Optional.ofNullable(ctx.header("Last-Event-ID")).or(() -> Query.text(ctx, "after"));
        Outbox outbox = hub.open(stillIn.countedAs(), filter, seen)
                .orElseThrow(() -> refusal(stillIn.countedAs()).asException());
        ctx.header("Content-Type", "text/event-stream; charset=utf-8")
                .header("Cache-Control", "no-store")
                .header("X-Accel-Buffering", "no");
        ctx.async(
                task -> {
                    task.executor = writers;
                    task.timeout = 0;
                },
                () -> write(ctx, outbox, stillIn));
    }

    private Problem refusal(UUID who) {
        return hub.hasMost(who)
                ? new Problem(
                        429,
                        "too-many-streams",
                        "Too many pages are open",
                        "You have " + LiveHub.MOST_OF_ONE
                                + " live streams already: close pages that you don't look at.",
                        Map.of())
                : Problem.unavailable("too many live viewers, or the server is stopping");
    }

    private void write(Context ctx, Outbox outbox, StillIn stillIn) {
        try {
            new LiveStream(hub, outbox, clock, ctx.res().getOutputStream(), stillIn).run();
        } catch (IOException gone) {
            // the screen went away, which is how most streams end; LiveStream has left the hub
            hub.leave(outbox);
        }
    }

    /** Ends every stream and waits until its answer is complete: the server stops cleanly only after that. */
    @Override
    public void close() {
        hub.close();
        writers.shutdown();
        try {
            if (!writers.awaitTermination(LONGEST_GOODBYE_MILLIS, TimeUnit.MILLISECONDS)) {
                writers.shutdownNow();
            }
        } catch (InterruptedException hurry) {
            writers.shutdownNow();
            Thread.currentThread().interrupt();
        }
    }
}
