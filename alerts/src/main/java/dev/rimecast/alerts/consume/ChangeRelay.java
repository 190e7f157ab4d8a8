package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.view.Changes.Change;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;
import org.postgresql.PGConnection;
import org.postgresql.PGNotification;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells the other instances what was committed here, and the pages of this one what was committed there, by the database's
 * own notifications (LISTEN and NOTIFY). It holds one connection. What is told while that is gone can't be had again: the
 * pages are then told to look at everything.
 */
public final class ChangeRelay implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(ChangeRelay.class);
    private static final String CHANNEL = "rimecast_changes";
    private static final int BOUND = 10_000;
    private static final long GATHER_MILLIS = 50;
    private static final int WAIT_MILLIS = 300;
    private static final long RETRY_MILLIS = 1_000;
    private static final long CLOSE_LIMIT_MILLIS = 3_000;

    private final Database database;
    private final Consumer<Collection<Change>> here;
    private final String sender = UUID.randomUUID().toString();
    private final Set<Change> waiting = new LinkedHashSet<>();
    private final Thread telling = daemon(this::tell, "alerts-changes-out");
    private final Thread hearing = daemon(this::hear, "alerts-changes-in");
    private volatile boolean closing;

    /** @param here is told what other instances have committed */
    ChangeRelay(Database database, Consumer<Collection<Change>> here) {
        this.database = database;
        this.here = here;
    }

    private static Thread daemon(Runnable work, String name) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        return thread;
    }

    /** A feed whose changes are told to every instance on this database, and that tells those of all. */
    public static Relayed start(Database database) {
        ChangeRelay[] relay = new ChangeRelay[1];
        ChangeFeed feed = new ChangeFeed(changes -> relay[0].offer(changes));
        relay[0] = new ChangeRelay(database, feed::publishHere);
        relay[0].telling.start();
        relay[0].hearing.start();
        return new Relayed(feed, relay[0]);
    }

    /** Both ends; the relay is closed first. */
    public record Relayed(ChangeFeed feed, ChangeRelay relay) {}

    private void offer(Collection<Change> changes) {
        if (changes.isEmpty()) {
            return;
        }
        synchronized (waiting) {
            waiting.addAll(changes);
            if (waiting.size() > BOUND) {
                waiting.clear();
                waiting.add(Change.EVERYTHING);
            }
            waiting.notifyAll();
        }
    }

    private void tell() {
        try {
            while (!closing) {
                List<Change> next = take();
                if (!next.isEmpty() && !sent(next)) {
                    offer(List.of(Change.EVERYTHING));
                    Thread.sleep(RETRY_MILLIS);
                }
                Thread.sleep(GATHER_MILLIS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private List<Change> take() throws InterruptedException {
        synchronized (waiting) {
            while (waiting.isEmpty() && !closing) {
                waiting.wait();
            }
            List<Change> taken = new ArrayList<>(waiting);
            waiting.clear();
            return taken;
        }
    }

    private boolean sent(List<Change> changes) {
        try {
            database.jdbi().useTransaction(handle -> {
                for (String text : ChangeWire.encode(sender, changes)) {
                    handle.createQuery("select pg_notify(:channel, :text)")
                            .bind("channel", CHANNEL)
                            .bind("text", text)
                            .map((row, context) -> 0)
                            .list();
                }
            });
            return true;
        } catch (RuntimeException away) {
            log.debug("other instances can't be told now: {}", away.toString());
            return false;
        }
    }

    private void hear() {
        boolean isFirst = true;
        while (!closing) {
            try (Handle handle = database.jdbi().open()) {
                handle.execute("listen " + CHANNEL);
                if (!isFirst) {
                    here.accept(List.of(Change.EVERYTHING));
                }
                isFirst = false;
                listen(handle.getConnection());
                // The pool gets a connection back that hears nothing.
                handle.execute("unlisten " + CHANNEL);
            } catch (RuntimeException | SQLException away) {
                if (!closing) {
                    log.warn("what other instances change can't be heard now, trying again: {}", away.toString());
                    pause();
                }
            }
        }
    }

    private void listen(Connection connection) throws SQLException {
        PGConnection postgres = connection.unwrap(PGConnection.class);
        while (!closing) {
            PGNotification[] heard = postgres.getNotifications(WAIT_MILLIS);
            for (PGNotification each : heard == null ? new PGNotification[0] : heard) {
                ChangeWire.decode(each.getParameter(), sender).ifPresent(here);
            }
        }
    }

    private static void pause() {
        try {
            Thread.sleep(RETRY_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Whether its threads run. */
    public boolean isAlive() {
        return telling.isAlive() && hearing.isAlive();
    }

    @Override
    public void close() {
        closing = true;
        synchronized (waiting) {
            waiting.notifyAll();
        }
        try {
            telling.join(CLOSE_LIMIT_MILLIS);
            hearing.join(CLOSE_LIMIT_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
