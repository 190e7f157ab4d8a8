package dev.rimecast.dashboard.access;

import dev.rimecast.alerts.people.ApiToken;
import dev.rimecast.alerts.people.Entrance;
import dev.rimecast.alerts.people.Session;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;
import java.util.function.Supplier;

/**
 * Whether somebody who came in is still allowed to be here, for answers that take long. Looks again at once after a
 * change in this process, else every few seconds, since another process may have ended the session.
 */
public final class StillIn implements BooleanSupplier {
    private static final long LOOKS_EVERY_NANOS = Duration.ofSeconds(5).toNanos();

    private final Entrance entrance;
    private final Visitor visitor;
    private final Supplier<Optional<Visitor>> again;
    private final LongSupplier monotonicNanos;
    private long seenChanges;
    private long lookedNanos;

    /** @param again who the same cookie or token brings in now */
    StillIn(Entrance entrance, Visitor visitor, Supplier<Optional<Visitor>> again, LongSupplier monotonicNanos) {
        this.entrance = entrance;
        this.visitor = visitor;
        this.again = again;
        this.monotonicNanos = monotonicNanos;
        this.seenChanges = entrance.changes();
        this.lookedNanos = monotonicNanos.getAsLong();
    }

    /** The sites that they came in for; with others, they have to come in anew. */
    public SiteScope sites() {
        return visitor.sites();
    }

    /**
     * What is told apart where there is a bound for each: an account, or a token of it, since all the walls of a firm may
     * have links by one person. An account of a demonstration is everybody's, so there it is the session.
     */
    public UUID countedAs() {
        Optional<UUID> token = visitor.token().map(ApiToken::id);
        Optional<UUID> session = visitor.session().map(Session::id);
        return token.or(() -> visitor.account().isDemo() ? session : Optional.empty())
                .orElse(visitor.account().id());
    }

    @Override
    public boolean getAsBoolean() {
        long changes = entrance.changes();
        long now = monotonicNanos.getAsLong();
        if (changes == seenChanges && now - lookedNanos < LOOKS_EVERY_NANOS) {
            return true;
        }
        seenChanges = changes;
        lookedNanos = now;
        return again.get()
                .filter(who ->
                        who.sites().equals(visitor.sites()) && who.permissions().equals(visitor.permissions()))
                .isPresent();
    }
}
