package dev.rimecast.dashboard;

import java.util.Optional;

/**
 * Where programs that look after a process ask, beside its pages or where it has none.
 *
 * @param listen as for pages: without TLS a loopback address only
 * @param token what {@code /metrics} wants to see as a bearer token; empty: nothing, on a loopback address only
 */
public record ManagementSettings(DashboardSettings listen, Optional<String> token) {
    /** As long as a key of 256 bits in base64 without its padding is, and a little less. */
    public static final int SHORTEST_TOKEN = 32;

    public ManagementSettings {
        if (token.isEmpty() && !listen.isLoopback()) {
            throw new IllegalArgumentException("management host '" + listen.host()
                    + "' is refused: without a token, counters are on a loopback address only, such as 127.0.0.1");
        }
        if (token.filter(text -> text.length() < SHORTEST_TOKEN).isPresent()) {
            throw new IllegalArgumentException(
                    "the management token is too short: it takes " + SHORTEST_TOKEN + " characters or more");
        }
    }

    /** Without the token. */
    @Override
    public String toString() {
        return "ManagementSettings[" + listen + ']';
    }
}
