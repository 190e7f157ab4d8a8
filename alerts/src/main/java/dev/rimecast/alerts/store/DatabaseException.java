package dev.rimecast.alerts.store;

import java.sql.SQLException;

/** The database refused or is gone; the cause says which. */
public final class DatabaseException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    DatabaseException(SQLException cause) {
        super(cause.getMessage(), cause);
    }
}
