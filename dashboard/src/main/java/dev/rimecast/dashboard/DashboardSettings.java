package dev.rimecast.dashboard;

/**
 * Where the dashboard listens.
 *
 * @param host address to bind to; a loopback address, since passwords must not cross a network in the clear
 * @param port 0 takes any free one
 * @param productVersion shown on the pages and in {@code /api/v1/status}
 * @param isDemo whether a browser comes in by itself, as the operator of the demonstration
 */
public record DashboardSettings(String host, int port, String productVersion, boolean isDemo) {
    public DashboardSettings {
        if (host.isBlank()) {
            throw new IllegalArgumentException("dashboard host must not be empty");
        }
        if (port < 0 || port > 65_535) {
            throw new IllegalArgumentException("dashboard port must be from 0 to 65535, was " + port);
        }
    }

    /** This machine only. */
    public static DashboardSettings loopback(int port, String productVersion) {
        return new DashboardSettings("127.0.0.1", port, productVersion, false);
    }
}
