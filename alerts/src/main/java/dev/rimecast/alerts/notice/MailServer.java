package dev.rimecast.alerts.notice;

import java.util.Locale;
import java.util.Optional;

/** The server that takes our mail. */
public record MailServer(String host, int port, Security security, Optional<Login> login, String from) {

    /** How the connection is kept from being read. */
    public enum Security {
        /** A plain connection that must turn to TLS before anything is said; no TLS, no mail (RFC 3207). */
        STARTTLS,
        /** TLS from the first byte (RFC 8314 section 3.3). */
        TLS,
        /** None: only for a server on this machine. */
        NONE;

        String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /** Without the password in its text. */
    public record Login(String user, String password) {
        @Override
        public String toString() {
            return "Login[" + user + ", …]";
        }
    }
}
