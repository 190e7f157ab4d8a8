package dev.rimecast.dashboard;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.ArrayList;
import java.util.Enumeration;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Reverse proxies that are believed when they say whom a request is from. Limits of guessing count by that address, so whoever could choose it
 * could pass them, and where all have the proxy's, one stranger keeps everybody out.
 *
 * <p>Of a proxy that is named here the last hop of {@code X-Forwarded-For} is taken, which is the one that it wrote itself; what stands before it
 * was there when the request came to it, and anybody may have written that. Of everybody else the header is not looked at.
 *
 * @param addresses of the proxies, as the socket shows them
 */
public record TrustedProxies(Set<InetAddress> addresses) {
    /** Nobody is believed. */
    public static final TrustedProxies NONE = new TrustedProxies(Set.of());

    private static final Pattern IP4 =
            Pattern.compile("(?:25[0-5]|2[0-4]\\d|1\\d\\d|[1-9]?\\d)(?:\\.(?:25[0-5]|2[0-4]\\d|1\\d\\d|[1-9]?\\d)){3}");
    private static final Pattern IP6 = Pattern.compile("[0-9a-fA-F:.]*:[0-9a-fA-F:.]*");

    public TrustedProxies {
        addresses = Set.copyOf(addresses);
    }

    /**
     * From the configuration.
     *
     * @param text addresses, separated by commas; no names, since those could come to mean another
     * @throws IllegalArgumentException if one of them is none
     */
    public static TrustedProxies of(String text) {
        Set<InetAddress> addresses = new LinkedHashSet<>();
        for (String each : text.split(",", -1)) {
            addresses.add(literal(each.strip())
                    .orElseThrow(() -> new IllegalArgumentException(
                            "takes IP addresses separated by commas, and '" + each.strip() + "' is none")));
        }
        return new TrustedProxies(addresses);
    }

    /**
     * Whom a request is from.
     *
     * @param socket address at the other end of the connection
     * @param forwarded values of {@code X-Forwarded-For}, a line each, in the order in which they came
     */
    String client(String socket, Enumeration<String> forwarded) {
        if (addresses.isEmpty() || literal(socket).filter(addresses::contains).isEmpty()) {
            return socket;
        }
        List<String> lines = new ArrayList<>();
        forwarded.asIterator().forEachRemaining(lines::add);
        if (lines.isEmpty()) {
            return socket;
        }
        String last = lines.get(lines.size() - 1);
        return literal(last.substring(last.lastIndexOf(',') + 1).strip())
                .map(InetAddress::getHostAddress)
                .orElse(socket);
    }

    /** An address that is written as one. No name is ever looked up. */
    private static Optional<InetAddress> literal(String text) {
        String bare = text.startsWith("[") && text.endsWith("]") ? text.substring(1, text.length() - 1) : text;
        try {
            if (IP4.matcher(bare).matches()) {
                return Optional.of(InetAddress.getByName(bare));
            }
            // In brackets it is taken for an address, and is one or fails.
            return IP6.matcher(bare).matches() && bare.length() <= 45
                    ? Optional.of(InetAddress.getByName('[' + bare + ']'))
                    : Optional.empty();
        } catch (UnknownHostException noAddress) {
            return Optional.empty();
        }
    }
}
