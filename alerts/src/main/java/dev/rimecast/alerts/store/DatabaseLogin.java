package dev.rimecast.alerts.store;

import java.util.Optional;

/**
 * Where the database is, and as whom it is spoken to.
 *
 * @param jdbcUrl with whatever the driver needs for TLS
 * @param user the application's role: reads and writes rows
 * @param owner whose the tables are, for bringing the schema level at the start and nothing else; empty: the application is the owner,
 *     and could change what is append-only
 */
public record DatabaseLogin(String jdbcUrl, String user, String password, Optional<Owner> owner) {

    /** A role that owns the tables. */
    public record Owner(String user, String password) {
        /** Without the password. */
        @Override
        public String toString() {
            return "Owner[" + user + "]";
        }
    }

    /** Without passwords. */
    @Override
    public String toString() {
        return "DatabaseLogin[" + jdbcUrl + ", user " + user
                + owner.map(o -> ", owner " + o.user()).orElse("") + "]";
    }
}
