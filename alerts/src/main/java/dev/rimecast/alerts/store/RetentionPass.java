package dev.rimecast.alerts.store;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.view.Changes.Change;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Takes away what is older than {@link Retention} allows: once an hour a round over all that grows, a small step at each
 * look, so that nothing waits for it. What is missed or fails is old in the next round, too.
 *
 * <p>At the end of a round every row is younger than its age or belongs to what still goes on; no other row is touched.
 */
public final class RetentionPass {
    private static final Logger LOG = LoggerFactory.getLogger(RetentionPass.class);
    private static final Duration ROUND_EVERY = Duration.ofHours(1);

    private final Database database;
    private final List<OldRows> all;
    private int at;
    private long taken;
    private Instant begun = Instant.MIN;

    public RetentionPass(Database database, Retention retention) {
        this.database = database;
        this.all = OldRows.all(retention);
        this.at = all.size();
    }

    /** @return nothing: what is taken away was on no page that is open */
    public Collection<Change> run(Instant now) {
        boolean isTime = begun.equals(Instant.MIN) || now.isBefore(begun) || !now.isBefore(begun.plus(ROUND_EVERY));
        if (at == all.size() && !isTime) {
            return List.of();
        }
        if (at == all.size()) {
            begun = now;
            at = 0;
            taken = 0;
        }
        OldRows which = all.get(at);
        OldRows.Step step = database.jdbi().inTransaction(handle -> which.take(handle, begun));
        taken += step.rows();
        if (step.isLast()) {
            at++;
            if (at == all.size() && taken > 0) {
                LOG.info("{} rows were older than they are kept for, and are gone", taken);
            }
        }
        return List.of();
    }
}
