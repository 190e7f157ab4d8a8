package dev.rimecast.ingest.broker;

import java.net.URI;
import java.net.URISyntaxException;
import java.time.Duration;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * Which broker to subscribe to, and as whom.
 *
 * @param url {@code mqtt://host:port}, or {@code mqtts://host:port} for TLS
 * @param clientId one of its own for each instance, and the same after each start: the broker keeps what an instance has
 *     not acknowledged under this name
 * @param group instances of one group share the packs; each pack goes to one of them
 * @param login empty where the broker asks for none
 * @param trustsTopics whether the broker looks at who publishes on which topic, so that it may speak for gateways that have keys
 * @param receiveMaximum packs that the broker sends ahead of our acknowledgements; what holds it back when Kafka is slow
 * @param limits how much of one gateway is taken
 * @param sessionExpiry how long the broker keeps our session when we are away
 */
public record BrokerSettings(
        String url,
        String clientId,
        String group,
        Optional<Login> login,
        boolean trustsTopics,
        int receiveMaximum,
        BrokerLimits limits,
        Duration sessionExpiry) {
    /** Worst case in memory is this many packs of 256 KiB, 50 MiB; at 5 ms to Kafka it still lets 40,000 a second by. */
    public static final int RECEIVE_MAXIMUM = 200;
    /** Long enough for a broken machine to be replaced over a long weekend. */
    public static final Duration SESSION_EXPIRY = Duration.ofDays(7);

    private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._-]{0,63}");

    /** A user and its password. */
    public record Login(String user, String password) {
        @Override
        public String toString() {
            return "Login[" + user + "]";
        }
    }

    /** What can be written wrongly in a configuration. */
    public enum Field {
        URL,
        CLIENT_ID,
        GROUP
    }

    /** A field that is wrong. */
    public static final class Wrong extends IllegalArgumentException {
        private static final long serialVersionUID = 1L;

        private final Field field;
        private final String what;

        Wrong(Field field, String what) {
            super(field + " " + what);
            this.field = field;
            this.what = what;
        }

        public Field field() {
            return field;
        }

        /** What is wrong with it, as it reads after its name. */
        public String what() {
            return what;
        }
    }

    /** @throws Wrong if url, client id or group is */
    public BrokerSettings {
        parse(url);
        requireName(Field.CLIENT_ID, clientId);
        requireName(Field.GROUP, group);
        if (receiveMaximum < 1 || receiveMaximum > 65_535) {
            throw new IllegalArgumentException("receiveMaximum must be 1 to 65535, was " + receiveMaximum);
        }
        if (sessionExpiry.compareTo(Duration.ofMinutes(1)) < 0) {
            throw new IllegalArgumentException("sessionExpiry must be at least 1 min, was " + sessionExpiry);
        }
    }

    public static BrokerSettings standard(String url, String clientId, String group, Optional<Login> login) {
        return new BrokerSettings(
                url, clientId, group, login, false, RECEIVE_MAXIMUM, BrokerLimits.STANDARD, SESSION_EXPIRY);
    }

    /** The same, of a broker that looks at who publishes on which topic, or of one that does not. */
    public BrokerSettings trustingTopics(boolean trusts) {
        return new BrokerSettings(url, clientId, group, login, trusts, receiveMaximum, limits, sessionExpiry);
    }

    /** The same with other limits for each gateway. */
    public BrokerSettings withLimits(BrokerLimits ofGateways) {
        return new BrokerSettings(url, clientId, group, login, trustsTopics, receiveMaximum, ofGateways, sessionExpiry);
    }

    /** Whether the line is encrypted. */
    public boolean isEncrypted() {
        return isTls(parse(url));
    }

    public String host() {
        return parse(url).getHost();
    }

    /** The address as the client library writes it. */
    String serverUri() {
        URI uri = parse(url);
        int port = uri.getPort() >= 0 ? uri.getPort() : isTls(uri) ? 8883 : 1883;
        return (isTls(uri) ? "ssl://" : "tcp://") + uri.getHost() + ":" + port;
    }

    private static boolean isTls(URI uri) {
        return "mqtts".equals(uri.getScheme());
    }

    private static URI parse(String url) {
        URI uri;
        try {
            uri = new URI(url);
        } catch (URISyntaxException notOne) {
            throw wrong(url);
        }
        boolean isScheme = "mqtt".equals(uri.getScheme()) || isTls(uri);
        boolean hasMore = uri.getUserInfo() != null
                || uri.getQuery() != null
                || uri.getFragment() != null
                || (uri.getPath() != null && !uri.getPath().isEmpty());
        if (!isScheme || uri.getHost() == null || hasMore || uri.getPort() > 65_535) {
            throw wrong(url);
        }
        return uri;
    }

    private static Wrong wrong(String url) {
        return new Wrong(
                Field.URL, "must be mqtt://host:port, or mqtts://host:port for TLS, and nothing more, found " + url);
    }

    private static void requireName(Field field, String value) {
        if (!NAME.matcher(value).matches()) {
            throw new Wrong(field, "must be 1 to 64 letters, digits, dots, dashes or underscores, found " + value);
        }
    }
}
