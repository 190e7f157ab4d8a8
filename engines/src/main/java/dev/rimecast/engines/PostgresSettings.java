package dev.rimecast.engines;

/**
 * What can be set on {@link EmbeddedPostgres}.
 *
 * @param maxConnections connections at a time, ours and people's
 * @param sharedBuffersMegabytes the server's own page cache, MiB
 */
public record PostgresSettings(int maxConnections, int sharedBuffersMegabytes) {
    /** 40 connections, 48 MiB. */
    public static final PostgresSettings STANDARD = new PostgresSettings(40, 48);

    public PostgresSettings {
        if (maxConnections < 5) {
            throw new IllegalArgumentException("maxConnections must be at least 5, was " + maxConnections);
        }
        if (sharedBuffersMegabytes < 1) {
            throw new IllegalArgumentException(
                    "sharedBuffersMegabytes must be at least 1, was " + sharedBuffersMegabytes);
        }
    }
}
