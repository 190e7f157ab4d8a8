package dev.rimecast.engines;

/** The server's own settings files. */
final class PostgresConfig {
    /** Passwords for everybody, no sockets in the file system, nothing from other machines. */
    static final String HOST_ACCESS = """
            # written at every start
            host all all 127.0.0.1/32 scram-sha-256
            """;

    private PostgresConfig() {}

    /**
     * Text of {@code postgresql.conf}. Durability is the server's full one; memory is for a machine that is shared.
     *
     * @param binaries name of the programs' directory, so that another version of them is another configuration
     */
    static String text(int port, String binaries, PostgresSettings settings) {
        return """
                # written at every start, for the programs in %s
                listen_addresses = '127.0.0.1'
                unix_socket_directories = ''
                port = %d
                max_connections = %d
                password_encryption = 'scram-sha-256'
                fsync = on
                synchronous_commit = on
                full_page_writes = on
                wal_level = minimal
                max_wal_senders = 0
                min_wal_size = '32MB'
                max_wal_size = '256MB'
                shared_buffers = '%dMB'
                work_mem = '4MB'
                maintenance_work_mem = '32MB'
                io_method = 'sync'
                max_worker_processes = 2
                max_parallel_workers_per_gather = 0
                autovacuum_max_workers = 1
                autovacuum_worker_slots = 2
                max_logical_replication_workers = 0
                jit = off
                timezone = 'UTC'
                log_timezone = 'UTC'
                log_min_messages = 'warning'
                log_checkpoints = off
                """.formatted(binaries, port, settings.maxConnections(), settings.sharedBuffersMegabytes());
    }
}
