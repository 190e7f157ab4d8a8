package dev.rimecast.alerts.store;

import dev.rimecast.alerts.keep.Turn;

/**
 * A turn that all instances on a database share: a lock of PostgreSQL that ends with the transaction, and so with the
 * connection of one that falls over.
 *
 * @param what tells one turn from another
 */
public record DatabaseTurn(Database database, String what) implements Turn {
    @Override
    public void take(Runnable work) {
        database.jdbi().useTransaction(handle -> {
            // A process that hangs with the turn in its hands loses it.
            handle.execute("set local idle_in_transaction_session_timeout = '60s'");
            boolean isOurs = handle.createQuery("select pg_try_advisory_xact_lock(hashtextextended(:what, 0))")
                    .bind("what", "rimecast " + what)
                    .mapTo(Boolean.class)
                    .one();
            if (isOurs) {
                work.run();
            }
        });
    }
}
