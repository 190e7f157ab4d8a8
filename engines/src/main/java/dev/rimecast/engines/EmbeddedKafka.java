package dev.rimecast.engines;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.net.BindException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Properties;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import kafka.server.KafkaConfig;
import org.apache.kafka.clients.CommonClientConfigs;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.common.Uuid;
import org.apache.kafka.common.config.ConfigException;
import org.apache.kafka.common.utils.internals.Exit;
import org.apache.kafka.metadata.storage.Formatter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A Kafka broker and controller in this process, on loopback, with its data in one directory. All that is internal to
 * Kafka stays in this class, {@link KafkaNode} and {@link BrokerConfig}: it is pinned to one version and tested by kills.
 *
 * <p>One per process at a time: Kafka's way to end the process is a static hook, and the last one started owns it.
 */
public final class EmbeddedKafka implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(EmbeddedKafka.class);
    private static final String HOST = "127.0.0.1:";
    private static final String PORTS = "ports";
    private static final int PORT_ATTEMPTS = 3;
    private static final int CLOSE_SECONDS_MAX = 8;
    private static final Duration TOPIC_TIMEOUT = Duration.ofSeconds(30);

    private final DirectoryLock lock;
    private final KafkaNode server;
    private final Map<String, String> client;
    private final AtomicBoolean running;

    private EmbeddedKafka(DirectoryLock lock, KafkaNode server, Map<String, String> client, AtomicBoolean running) {
        this.lock = lock;
        this.server = server;
        this.client = client;
        this.running = running;
    }

    /**
     * Starts a broker on {@code directory}, which is made ready if it is new. After a kill the log is recovered first.
     *
     * @throws EngineException if the directory is in use or the broker does not start
     */
    public static EmbeddedKafka start(Path directory, KafkaSettings settings) {
        Path absolute = directory.toAbsolutePath().normalize();
        try {
            DirectoryLock lock = DirectoryLock.acquire(absolute);
            try {
                return start(absolute, settings, lock);
            } catch (RuntimeException | IOException e) {
                lock.close();
                throw e;
            }
        } catch (IOException e) {
            throw new EngineException("Kafka's directory " + absolute + " can't be used: " + e.getMessage(), e);
        }
    }

    private static EmbeddedKafka start(Path directory, KafkaSettings settings, DirectoryLock lock) throws IOException {
        KafkaLogin login = KafkaLogin.in(directory);
        KeptPorts kept = new KeptPorts(directory.resolve(PORTS), 2);
        List<Integer> ports = kept.choose();
        for (int attempt = 1; ; attempt++) {
            AtomicBoolean running = new AtomicBoolean();
            AtomicBoolean gaveUp = new AtomicBoolean();
            Properties config = BrokerConfig.of(directory.resolve("log"), ports.get(0), ports.get(1), login, settings);
            takeOverExit(settings, running, gaveUp);
            format(directory.resolve("log"));
            TornIndexes.remove(directory.resolve("log"));
            KafkaNode server = KafkaNode.of(parse(config));
            try {
                server.start();
                running.set(true);
                if (gaveUp.get()) {
                    throw new EngineException("it gave up while it read its logs; what it says of itself tells why");
                }
                return new EmbeddedKafka(lock, server, login.client(HOST + ports.get(0)), running);
            } catch (Throwable e) {
                if (e instanceof InterruptedException) {
                    Thread.currentThread().interrupt();
                }
                shutDown(server);
                if (!isPortTaken(e) || attempt == PORT_ATTEMPTS) {
                    throw new EngineException("Kafka did not start on " + directory + ": " + e.getMessage(), e);
                }
                LOG.info("a port of {} was taken between the look and the start, trying others", ports);
                ports = kept.chooseNew();
            }
        }
    }

    private static KafkaConfig parse(Properties config) {
        try {
            return new KafkaConfig(config);
        } catch (IllegalArgumentException | ConfigException e) {
            throw new EngineException("Kafka does not accept its settings: " + e.getMessage(), e);
        }
    }

    /** Kafka ends the process on a fatal fault, without hooks or output. Here it tells us, and its thread ends. */
    private static void takeOverExit(KafkaSettings settings, AtomicBoolean running, AtomicBoolean gaveUp) {
        Exit.Procedure procedure = (code, message) -> {
            String reason = message == null ? "" : message;
            gaveUp.set(true);
            if (running.compareAndSet(true, false)) {
                LOG.error("Kafka gave up with code {}: {}", code, reason);
                settings.onFailure().accept(new EngineFailure("kafka", code, reason));
            }
            throw new EngineException("Kafka gave up with code " + code + (reason.isEmpty() ? "" : ": " + reason));
        };
        Exit.setExitProcedure(procedure);
        Exit.setHaltProcedure(procedure);
    }

    private static void format(Path logDirectory) {
        if (Files.exists(logDirectory.resolve("meta.properties"))) {
            return;
        }
        try {
            new Formatter()
                    .setPrintStream(new PrintStream(OutputStream.nullOutputStream(), false, StandardCharsets.UTF_8))
                    .setNodeId(BrokerConfig.NODE_ID)
                    .setClusterId(Uuid.randomUuid().toString())
                    .addDirectory(logDirectory.toString())
                    .setMetadataLogDirectory(logDirectory.toString())
                    .setControllerListenerName(BrokerConfig.CONTROLLER_LISTENER)
                    .setIgnoreFormatted(true)
                    .run();
        } catch (Exception e) {
            throw new EngineException(
                    "Kafka's directory " + logDirectory + " can't be formatted: " + e.getMessage(), e);
        }
    }

    private static boolean isPortTaken(Throwable failure) {
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof BindException) {
                return true;
            }
        }
        return false;
    }

    private static void shutDown(KafkaNode server) {
        try {
            server.shutDown();
        } catch (RuntimeException e) {
            LOG.warn("Kafka did not stop in order", e);
        }
    }

    private static boolean join(Thread thread) throws InterruptedException {
        thread.join(TimeUnit.SECONDS.toMillis(CLOSE_SECONDS_MAX));
        return !thread.isAlive();
    }

    /**
     * Settings of a client for the broker that another process runs on {@code directory}; whoever can read its secret may.
     *
     * @throws EngineException if no broker was ever started there, or its secret can't be read
     */
    public static Map<String, String> clientOf(Path directory) {
        try {
            List<Integer> ports = new KeptPorts(directory.resolve(PORTS), 2).read();
            if (ports.size() != 2) {
                throw new EngineException(directory + " has no Kafka of Rimecast in it: name the directory that "
                        + "a server uses as its data directory");
            }
            return KafkaLogin.of(directory).client(HOST + ports.get(0));
        } catch (IOException e) {
            throw new EngineException(
                    "Kafka's secret in " + directory + " can't be read: " + e.getMessage()
                            + "; only the account that runs the server may",
                    e);
        }
    }

    /** Settings of a client: address, and the secret, which must not be printed. */
    public Map<String, String> client() {
        return client;
    }

    /** As {@link #client()}, and {@code more}. */
    public Map<String, Object> client(Map<String, ?> more) {
        Map<String, Object> all = new HashMap<>(client);
        all.putAll(more);
        return all;
    }

    /** Host and port for clients, e.g. {@code 127.0.0.1:40123}. */
    public String bootstrapServers() {
        return Objects.requireNonNull(client.get(CommonClientConfigs.BOOTSTRAP_SERVERS_CONFIG));
    }

    /** Whether the broker has started, has not been closed, and has not given up. */
    public boolean isRunning() {
        return running.get();
    }

    /** Creates what is missing of {@code topics} and brings the settings of the others level. See {@link TopicSpec}. */
    public void createTopics(Collection<TopicSpec> topics) {
        try (Admin admin = Admin.create(client(Map.of()))) {
            TopicSetup.apply(admin, topics, (short) 1, TOPIC_TIMEOUT);
        }
    }

    /** Stops in order; about a second, at most {@value #CLOSE_SECONDS_MAX}. Clients should be closed before. */
    @Override
    public void close() {
        running.set(false);
        // A broker that has given up may wait for a thread that is gone: its owner must still come to an end.
        Thread stop = new Thread(() -> shutDown(server), "kafka-stop");
        stop.setDaemon(true);
        stop.start();
        try (lock) {
            if (!join(stop)) {
                LOG.warn("Kafka has not stopped within {} s; the next start recovers its log", CLOSE_SECONDS_MAX);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (IOException e) {
            LOG.warn("Kafka's directory could not be released", e);
        }
    }
}
