package dev.rimecast.engines;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.postgresql.PGConnection;

/**
 * Who may do what in the embedded server. The keeper is its superuser and makes the others; the owner has the product's database and
 * brings its schema level; the application comes in, and has what the owner grants it. In databases of earlier versions the
 * application was the owner: what it had is handed over at the first start of this one.
 */
record PostgresRoles(int port, String keeperPassword) {
    static final String KEEPER = "postgres";
    static final String OWNER = "rimecast_owner";
    static final String APPLICATION = "rimecast";
    static final String DATABASE = "rimecast";

    /** Makes what is missing. Passwords are set anew, so that a deleted file of one makes a new one. */
    void prepare(String ownerPassword, String password) throws SQLException {
        try (Connection connection = connect(KEEPER);
                Statement statement = connection.createStatement()) {
            role(connection, statement, OWNER, ownerPassword);
            role(connection, statement, APPLICATION, password);
            if (!exists(statement, "SELECT 1 FROM pg_database WHERE datname = '" + DATABASE + "'")) {
                statement.execute("CREATE DATABASE " + DATABASE + " OWNER " + OWNER);
            } else if (exists(
                    statement,
                    "SELECT 1 FROM pg_database WHERE datname = '" + DATABASE + "' AND pg_get_userbyid(datdba) = '"
                            + APPLICATION + "'")) {
                handOver();
            }
        }
    }

    private static void role(Connection connection, Statement statement, String name, String password)
            throws SQLException {
        if (!exists(statement, "SELECT 1 FROM pg_roles WHERE rolname = '" + name + "'")) {
            statement.execute("CREATE ROLE " + name + " LOGIN");
        }
        // The driver hashes: the server's log never sees the password.
        connection.unwrap(PGConnection.class).alterUserPassword(name, password.toCharArray(), "scram-sha-256");
    }

    /** The database itself changes hands with what is in it, so a kill in the middle begins anew. */
    private void handOver() throws SQLException {
        try (Connection connection = connect(DATABASE);
                Statement statement = connection.createStatement()) {
            statement.execute("REASSIGN OWNED BY " + APPLICATION + " TO " + OWNER);
        }
    }

    private Connection connect(String database) throws SQLException {
        return DriverManager.getConnection(url(port, database), KEEPER, keeperPassword);
    }

    private static boolean exists(Statement statement, String query) throws SQLException {
        try (ResultSet row = statement.executeQuery(query)) {
            return row.next();
        }
    }

    static String url(int port, String database) {
        return "jdbc:postgresql://127.0.0.1:" + port + "/" + database;
    }

    /** Without the password. */
    @Override
    public String toString() {
        return "PostgresRoles[" + port + "]";
    }
}
