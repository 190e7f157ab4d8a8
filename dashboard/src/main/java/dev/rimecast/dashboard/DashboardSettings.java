package dev.rimecast.dashboard;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Where the dashboard listens.
 *
 * @param host address to bind to; without TLS a loopback address, since passwords must not cross a network in the clear
 * @param port 0 takes any free one
 * @param tls how it shows that it is itself; empty: in the clear
 * @param proxies that are believed when they say whom a request is from
 * @param productVersion shown on the pages and in {@code /api/v1/status}
 * @param isDemo whether a browser comes in by itself, as the operator of the demonstration
 */
public record DashboardSettings(
        String host, int port, Optional<Tls> tls, TrustedProxies proxies, String productVersion, boolean isDemo) {

    /** Where no proxy is believed. */
    public DashboardSettings(String host, int port, Optional<Tls> tls, String productVersion, boolean isDemo) {
        this(host, port, tls, TrustedProxies.NONE, productVersion, isDemo);
    }

    /**
     * @param certificate chain in PEM, its own first
     * @param key its private key in PEM (PKCS 8)
     */
    public record Tls(Path certificate, Path key) {}

    public DashboardSettings {
        if (host.isBlank()) {
            throw new IllegalArgumentException("dashboard host must not be empty");
        }
        if (port < 0 || port > 65_535) {
            throw new IllegalArgumentException("dashboard port must be from 0 to 65535, was " + port);
        }
        if (tls.isEmpty() && !isLoopback(host)) {
            throw new IllegalArgumentException("dashboard host '" + host
                    + "' is refused: without TLS, pages are on a loopback address only, such as 127.0.0.1");
        }
    }

    /** This machine only. */
    public static DashboardSettings loopback(int port, String productVersion) {
        return new DashboardSettings("127.0.0.1", port, Optional.empty(), productVersion, false);
    }

    /** Whether it is an address that only this machine can reach. */
    boolean isLoopback() {
        return isLoopback(host);
    }

    private static boolean isLoopback(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            throw new IllegalArgumentException("dashboard host '" + host + "' is not known: " + e.getMessage(), e);
        }
    }
}
