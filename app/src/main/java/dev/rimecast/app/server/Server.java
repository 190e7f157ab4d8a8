package dev.rimecast.app.server;

import dev.rimecast.alerts.AlertsSettings;
import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.alerts.view.Thresholds;
import dev.rimecast.analytics.policy.PolicyGuide;
import dev.rimecast.analytics.stream.AnalyticsStage;
import dev.rimecast.analytics.stream.StageSettings;
import dev.rimecast.app.bench.ThresholdBench;
import dev.rimecast.app.logging.EngineLog;
import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.dashboard.DashboardStage;
import dev.rimecast.dashboard.ManagementSettings;
import dev.rimecast.dashboard.ManagementStage;
import dev.rimecast.engines.EngineFailure;
import dev.rimecast.history.HistorySettings;
import dev.rimecast.history.HistoryStage;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.IngestStage;
import dev.rimecast.ingest.disk.DiskGuard;
import dev.rimecast.ingest.disk.FreeSpace;
import dev.rimecast.ingest.kafka.letters.DeadLetterReplay;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The product in one process: engines first, then the stages from the end of the path to its beginning, so that nothing
 * is taken in before everything behind it is there. Closing goes the other way.
 */
public final class Server implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Server.class);

    private static final int DATABASE_CONNECTIONS = 12;
    private static final Duration REGISTER_WAIT = Duration.ofSeconds(30);

    private final Closing closing;
    private final Engines engines;
    private final Optional<AlertsStage> alerts;
    private final Optional<AnalyticsStage> analytics;
    private final Optional<HistoryStage> history;
    private final Optional<IngestStage> ingest;
    private final Optional<DashboardStage> dashboard;
    private final Backups backups;
    private final MeterRegistry meters;
    private final Standing standing;
    private final Optional<ManagementStage> management;

    private Server(Builder parts) {
        this.closing = parts.closing;
        this.engines = parts.engines;
        this.alerts = parts.alerts;
        this.analytics = parts.analytics;
        this.history = parts.history;
        this.ingest = parts.ingest;
        this.dashboard = parts.dashboard;
        this.backups = parts.backups;
        this.meters = parts.meters;
        this.standing = parts.standing;
        this.management = parts.management;
    }

    /**
     * Starts everything and returns when it takes readings and shows pages.
     *
     * @param clock the one clock of all stages
     * @param notice one sentence for every page, e.g. that this is a demonstration; asked at each status request
     * @param onFailure told when an engine gives up, after which the process should end
     * @throws StartException if something is wrong with settings or data; nothing is left running
     */
    public static Server start(
            ServerSettings settings,
            InstantSource clock,
            Supplier<Optional<String>> notice,
            Consumer<EngineFailure> onFailure) {
        Closing closing = new Closing();
        try {
            return new Server(new Builder(settings, clock, notice, closing, onFailure));
        } catch (RuntimeException e) {
            closing.close();
            throw e;
        }
    }

    /** Starts the parts in order; what is started is in {@code closing}, whatever comes after. */
    private static final class Builder {
        private final ServerSettings settings;
        private final InstantSource clock;
        private final Closing closing;
        private final Engines engines;
        private final PrometheusMeterRegistry meters = new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
        private final Standing standing = new Standing();
        private final Optional<ManagementStage> management;
        private final Health health;
        private final Optional<AlertsStage> alerts;
        private final Optional<AnalyticsStage> analytics;
        private final Optional<HistoryStage> history;
        private final Optional<IngestStage> ingest;
        private final Optional<DashboardStage> dashboard;
        private final Backups backups;

        Builder(
                ServerSettings settings,
                InstantSource clock,
                Supplier<Optional<String>> notice,
                Closing closing,
                Consumer<EngineFailure> onFailure) {
            this.settings = settings;
            this.clock = clock;
            this.closing = closing;
            FleetFiles.Fleet fleet = new FleetFiles(settings.files()).read();
            DataDirectory data = closing.add("data directory", DataDirectory.open(settings.data()));
            EngineLog.toFile(data.resolve("engines.log"));
            ClearText.warnings(settings).forEach(LOG::warn);
            ProcessMeters.bind(settings, standing, meters, closing);
            this.management = settings.management().flatMap(this::management);
            this.engines = Engines.start(settings, data, closing, onFailure);
            this.alerts = settings.roles().contains(Role.ALERTS) ? Optional.of(alerts(fleet)) : Optional.empty();
            this.analytics =
                    settings.roles().contains(Role.ANALYTICS) ? Optional.of(analytics(data)) : Optional.empty();
            this.history = settings.roles().contains(Role.HISTORY) ? Optional.of(history(data)) : Optional.empty();
            this.backups = new Backups(settings, engines, analytics);
            this.ingest = settings.roles().contains(Role.INGEST) ? Optional.of(ingest()) : Optional.empty();
            this.health = new Health(ingest, analytics, alerts, history, ClearText.warnings(settings), notice);
            this.dashboard =
                    settings.roles().contains(Role.DASHBOARD) ? Optional.of(dashboard(data)) : Optional.empty();
            standing.started(health);
        }

        private Optional<ManagementStage> management(ServerSettings.Management where) {
            ServerSettings.Address listen = where.listen();
            DashboardSettings http =
                    new DashboardSettings(listen.host(), listen.port(), where.tls(), Version.text(), settings.isDemo());
            try {
                return Optional.of(closing.add(
                        "management",
                        ManagementStage.start(new ManagementSettings(http, where.token()), standing, meters)));
            } catch (io.javalin.util.JavalinBindException e) {
                String taken = "port " + listen.port() + " of " + listen.host()
                        + " is taken: stop what uses it, or set management.port";
                if (where.isChosen()) {
                    throw new StartException(taken, e);
                }
                LOG.warn("there are no health and no counters to ask for: {}", taken);
                return Optional.empty();
            }
        }

        private AlertsStage alerts(FleetFiles.Fleet fleet) {
            AlertsStage stage =
                    closing.add("alerts", alertsStage(engines.database().orElseThrow()));
            fleet.bringInto(stage, settings.roles().contains(Role.INGEST));
            return stage;
        }

        private AlertsStage alertsStage(DatabaseLogin database) {
            try {
                return AlertsStage.start(
                        new AlertsSettings(
                                kafkaOfAlerts(),
                                database,
                                DATABASE_CONNECTIONS,
                                Optional.of(settings.notices()),
                                settings.siteLinkLasts(),
                                settings.retention(),
                                settings.visits(),
                                settings.secondFactor()),
                        clock,
                        meters);
            } catch (RuntimeException e) {
                throw new StartException(OutsideTrouble.ofDatabase(database, e), e);
            }
        }

        private AnalyticsStage analytics(DataDirectory data) {
            return closing.add("analytics", AnalyticsStage.start(analyticsSettings(data.resolve("streams")), meters));
        }

        private StageSettings analyticsSettings(Path state) {
            ServerSettings.TopicShape topics = settings.topics();
            return settings.member()
                    .map(member -> StageSettings.oneOfSeveral(
                            engines.kafka(),
                            member.name(),
                            state,
                            new StageSettings.Several(topics.replication(), topics.minInSync(), member.standbys())))
                    .orElseGet(() -> StageSettings.oneMachine(engines.kafka(), state));
        }

        /** As the clients of alerts want it: under its own name where there are several. */
        private Map<String, String> kafkaOfAlerts() {
            Map<String, String> kafka = new HashMap<>(engines.kafka());
            settings.member().ifPresent(member -> kafka.put("group.instance.id", "alerts-" + member.name()));
            return kafka;
        }

        private HistoryStage history(DataDirectory data) {
            return closing.add(
                    "history",
                    HistoryStage.start(
                            new HistorySettings(
                                    engines.kafka(),
                                    data.resolve("history"),
                                    settings.past().flush(),
                                    settings.past().keep(),
                                    settings.keepFreeBytes(),
                                    HistorySettings.MEMORY_MEGABYTES),
                            clock,
                            meters));
        }

        private IngestStage ingest() {
            IngestStage stage = closing.add("ingest", IngestStage.start(ingestSettings(), clock, meters));
            closing.add(
                    "log reach",
                    LogReach.start(engines.kafka(), settings.topics().retention(), meters));
            awaitRegister(stage);
            return stage;
        }

        private IngestSettings ingestSettings() {
            ServerSettings.Mqtt mqtt = settings.mqtt();
            IngestSettings base = IngestSettings.standard(engines.kafka())
                    .withMqtt(mqtt.listen().host(), mqtt.listen().port())
                    .withConnections(mqtt.connections());
            if (settings.kafka().isEmpty() || settings.database().isEmpty()) {
                base = base.withDisk(new DiskGuard(FreeSpace.of(settings.data()), settings.keepFreeBytes()));
            }
            IngestSettings with =
                    mqtt.secure().isPresent() ? base.withSecure(mqtt.secure().get()) : base;
            IngestSettings rated =
                    mqtt.packsPerSecond() > 0 ? with.withRate(mqtt.packsPerSecond()) : with.withoutRateLimit();
            IngestSettings shared = settings.member().isPresent() ? rated.asOneOfSeveral() : rated;
            return mqtt.broker()
                    .map(broker -> mqtt.hasEndpoint() ? shared.withBroker(broker) : shared.withBrokerOnly(broker))
                    .orElse(shared);
        }

        /** A Kafka that is slow to answer is no reason not to start: gateways are turned away until it does. */
        private static void awaitRegister(IngestStage stage) {
            try {
                if (!stage.awaitReady(REGISTER_WAIT)) {
                    LOG.warn("the register has not been read yet; gateways are turned away until it has");
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }

        /** Detection knows what its numbers mean; the pages know neither detection nor its files. */
        private static Thresholds thresholds() {
            PolicyGuide guide = PolicyGuide.standard();
            return entry -> guide.of(entry).map(number -> new Thresholds.Explained(number.standard(), number.text()));
        }

        private DashboardStage dashboard(DataDirectory data) {
            AlertsStage stage = alerts.orElseThrow(() -> new StartException(
                    "roles: dashboard needs alerts in the same process, since it reads through it: add alerts"));
            DashboardSettings where = new DashboardSettings(
                    settings.http().host(),
                    settings.http().port(),
                    settings.pagesTls(),
                    settings.proxies(),
                    Version.text(),
                    settings.isDemo());
            if (settings.isDemo()) {
                DemoAccounts.make(stage);
            }
            ThresholdBench bench = closing.add(
                    "bench",
                    ThresholdBench.start(
                            stage.policies(),
                            stage.marks(),
                            history.map(writing -> data.resolve("history")),
                            data.resolve("trial"),
                            clock));
            try {
                return closing.add(
                        "dashboard",
                        DashboardStage.start(
                                where,
                                stage.views(),
                                stage.actions(),
                                stage.inquiries(),
                                stage.siteChecks(),
                                stage.siteEvents(),
                                stage.notices(),
                                stage.work(),
                                stage.commissioning(),
                                stage.marks(),
                                stage.visits(),
                                stage.calendars(),
                                stage.changes(),
                                stage.rules(),
                                thresholds(),
                                bench,
                                stage.people(),
                                stage.gateways(),
                                stage.claims(),
                                clock,
                                meters,
                                health,
                                new ProcessWatch(
                                        settings.data(),
                                        ingest,
                                        new DeadLetterReplay(engines.kafka()),
                                        ProcessWatch.waiting(ingest, alerts, engines.kafka()),
                                        backups,
                                        clock),
                                standing));
            } catch (io.javalin.util.JavalinBindException e) {
                throw new StartException(
                        "port " + settings.http().port() + " of "
                                + settings.http().host() + " is taken: stop what uses it, or set dashboard.port",
                        e);
            }
        }
    }

    /** Client settings of the Kafka that is used. */
    public Map<String, String> kafka() {
        return engines.kafka();
    }

    /**
     * Writes everything into a file, while all goes on.
     *
     * @param file that is not there yet
     * @return its size, bytes
     * @throws dev.rimecast.app.backup.BackupException if it can't be done
     */
    public long backup(Path file) throws IOException {
        return backups.to(file);
    }

    public int httpPort() {
        return dashboard.orElseThrow().port();
    }

    /** Where programs ask that look after the process; empty: at the pages only, or the port was taken. */
    public Optional<Integer> managementPort() {
        return management.map(ManagementStage::port);
    }

    public int mqttPort() {
        return ingest.orElseThrow().mqttPort();
    }

    /** Every port that gateways connect to, the one in the clear first. */
    public List<Integer> mqttPorts() {
        return ingest.orElseThrow().mqttPorts();
    }

    public AlertsStage alerts() {
        return alerts.orElseThrow();
    }

    /** What every stage counts. */
    public MeterRegistry meters() {
        return meters;
    }

    public AnalyticsStage analytics() {
        return analytics.orElseThrow();
    }

    public HistoryStage history() {
        return history.orElseThrow();
    }

    public IngestStage ingest() {
        return ingest.orElseThrow();
    }

    /** Stops everything; within ten seconds. */
    @Override
    public void close() {
        long start = System.nanoTime();
        standing.stopping();
        closing.close();
        LOG.info("stopped in {} ms", (System.nanoTime() - start) / 1_000_000);
    }
}
