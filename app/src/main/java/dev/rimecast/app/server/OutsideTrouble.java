package dev.rimecast.app.server;

import dev.rimecast.alerts.store.DatabaseLogin;
import java.sql.SQLException;
import java.util.Map;
import java.util.Optional;
import javax.net.ssl.SSLException;
import org.apache.kafka.common.errors.SaslAuthenticationException;
import org.apache.kafka.common.errors.SslAuthenticationException;

/** What a person can do about an outside Kafka or PostgreSQL that does not let us in: what, where, and which setting. */
final class OutsideTrouble {
    /** PostgreSQL's invalid_authorization_specification and invalid_password (SQLSTATE, its appendix A). */
    private static final String REFUSED = "28";

    private static final String MISSING_ROLE = "42704";

    private OutsideTrouble() {}

    /** In words, where the failure is one of these. */
    static Optional<String> ofKafka(Map<String, String> client, Throwable failure) {
        String where = "Kafka at " + client.get("bootstrap.servers");
        if (cause(failure, SaslAuthenticationException.class).isPresent()) {
            return Optional.of(
                    where + " refuses our user: check kafka.username, the file that kafka.password-file names, and"
                            + " kafka.sasl (" + client.getOrDefault("sasl.mechanism", "not set") + ")");
        }
        return cause(failure, SslAuthenticationException.class)
                .map(
                        tls -> where + " and we do not trust each other (" + tlsReason(tls)
                                + "): kafka.ca-file must hold what signed its certificate, the certificate must name the host in"
                                + " kafka.bootstrap-servers, and where it asks for ours, kafka.certificate-file must be known there");
    }

    /** A failure to reach or to use the database, in words. */
    static String ofDatabase(DatabaseLogin login, Throwable failure) {
        String where = "PostgreSQL at " + login.jdbcUrl().replaceAll("[?].*", "");
        Optional<SQLException> sql = cause(failure, SQLException.class);
        String said = sql.map(SQLException::getMessage).orElseGet(() -> String.valueOf(failure.getMessage()));
        Optional<SSLException> tls = cause(failure, SSLException.class);
        if (tls.isPresent() || said.contains("hostname") && said.contains("verified")) {
            return where + " is not trusted ("
                    + tls.map(OutsideTrouble::tlsReason).orElse(said)
                    + "): database.ca-file must hold what signed its certificate, and the certificate must name the host in"
                    + " database.url";
        }
        String state = sql.map(SQLException::getSQLState).orElse("");
        if (state != null && state.startsWith(REFUSED)) {
            return where + " does not let us in (" + said
                    + "): check database.user or database.owner, and the files that hold their passwords";
        }
        if (MISSING_ROLE.equals(state)) {
            return where + " has no role " + login.user() + " (" + said
                    + "): make it there, or set database.user to one that is there";
        }
        return where + " can't be used: " + said;
    }

    private static String tlsReason(Throwable failure) {
        Throwable last = failure;
        while (last.getCause() != null && last.getCause() != last) {
            last = last.getCause();
        }
        return String.valueOf(last.getMessage());
    }

    private static <T extends Throwable> Optional<T> cause(Throwable failure, Class<T> kind) {
        for (Throwable each = failure; each != null; each = each.getCause()) {
            if (kind.isInstance(each)) {
                return Optional.of(kind.cast(each));
            }
        }
        return Optional.empty();
    }
}
