package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.OffsetMovedException;
import java.sql.SQLException;
import org.apache.kafka.common.KafkaException;
import org.jdbi.v3.core.JdbiException;

/** What to do about an exception while records are taken in. */
enum Failure {
    /** The records themselves can't be taken in, now or later. */
    POISON,
    /** The database or Kafka is gone or busy: the same again later. */
    PASSING,
    /** Somebody else has taken them in: find the place again. */
    MOVED;

    static Failure of(Throwable failure) {
        boolean database = false;
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof OffsetMovedException) {
                return MOVED;
            }
            if (cause instanceof SQLException sql) {
                return ofState(sql);
            }
            database |= cause instanceof JdbiException || cause instanceof KafkaException;
        }
        return database ? PASSING : POISON;
    }

    /** SQLSTATE class 22 is a value that the database can't hold, 23 a constraint that it breaks (PostgreSQL, appendix A). */
    private static Failure ofState(SQLException failure) {
        String state = failure.getSQLState() == null ? "" : failure.getSQLState();
        return state.startsWith("22") || state.startsWith("23") ? POISON : PASSING;
    }
}
