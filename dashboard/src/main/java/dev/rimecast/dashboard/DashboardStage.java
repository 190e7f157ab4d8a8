package dev.rimecast.dashboard;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Permission;
import dev.rimecast.alerts.register.MachineClaims;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Inquiries;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.SiteChecks;
import dev.rimecast.alerts.view.Thresholds;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.visits.calendar.CalendarLinks;
import dev.rimecast.alerts.work.Commissioning;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.dashboard.access.Access;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.api.Api;
import dev.rimecast.dashboard.api.FirstLook;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.http.Assets;
import dev.rimecast.dashboard.http.Pages;
import dev.rimecast.dashboard.http.Problems;
import dev.rimecast.dashboard.http.QuietErrors;
import dev.rimecast.dashboard.http.RequestMeter;
import dev.rimecast.dashboard.http.SameOrigin;
import dev.rimecast.dashboard.http.SecurityHeaders;
import dev.rimecast.dashboard.json.WireFormat;
import dev.rimecast.dashboard.live.ClockWatch;
import dev.rimecast.dashboard.live.LiveEndpoint;
import dev.rimecast.dashboard.live.LiveHub;
import dev.rimecast.dashboard.system.Probes;
import dev.rimecast.dashboard.system.SystemWatch;
import io.javalin.Javalin;
import io.javalin.compression.CompressionStrategy;
import io.javalin.config.JavalinConfig;
import io.javalin.http.Handler;
import io.javalin.json.JavalinJackson3;
import io.javalin.router.Endpoint;
import io.javalin.router.ParsedEndpoint;
import io.javalin.security.Roles;
import io.javalin.security.RouteRole;
import io.javalin.util.JavalinException;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.time.InstantSource;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
import org.eclipse.jetty.server.AbstractConnector;
import org.eclipse.jetty.server.Connector;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tools.jackson.databind.json.JsonMapper;

/**
 * The web side of the product: REST under {@code /api/v1}, live updates, the pages, {@code /healthz},
 * {@code /livez}, {@code /readyz} and {@code /metrics}. It owns no data; closing it ends open live streams first, and takes less than 3 s.
 */
public final class DashboardStage implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(DashboardStage.class);
    private static final int LONGEST_BODY_BYTES = 64 * 1024;
    private static final Duration LONGEST_STOP = Duration.ofSeconds(2);
    /** A stop waits for connections to close; those on which nothing happens get this long. */
    private static final Duration IDLE_WHILE_STOPPING = Duration.ofMillis(200);

    private final Javalin server;
    private final LiveEndpoint live;
    private final ClockWatch clockWatch;

    private DashboardStage(Javalin server, LiveEndpoint live, ClockWatch clockWatch) {
        this.server = server;
        this.live = live;
        this.clockWatch = clockWatch;
    }

    /**
     * Starts to listen.
     *
     * @param thresholds what the numbers of the policy mean
     * @param bench asked by the page where they are changed
     * @param clock the product's clock; pages count from it, never from their own
     * @param meters scraped at {@code /metrics} where it is, or holds, a Prometheus registry
     * @param health asked at every status request: must answer at once
     * @param watch asked by the page of whoever runs the product
     * @param probes asked by programs that look after the process
     * @throws io.javalin.util.JavalinBindException if the port is taken
     */
    public static DashboardStage start(
            DashboardSettings settings,
            Views views,
            Actions actions,
            Inquiries inquiries,
            SiteChecks siteChecks,
            Events events,
            Notices notices,
            Work work,
            Commissioning commissioning,
            Marks marks,
            Visits visits,
            CalendarLinks calendars,
            Changes changes,
            RuleDesk rules,
            Thresholds thresholds,
            Bench bench,
            People people,
            GatewayDesk gateways,
            MachineClaims claims,
            InstantSource clock,
            MeterRegistry meters,
            Supplier<HealthView> health,
            SystemWatch watch,
            Probes probes) {
        JsonMapper json = WireFormat.mapper();
        LiveHub hub = new LiveHub(changes, UUID.randomUUID().toString().substring(0, 8), json);
        Gate gate = new Gate(people, settings.isDemo());
        Api api = new Api(
                new Fleet(views, actions, inquiries, events, notices, work, commissioning, marks, visits),
                siteChecks,
                calendars,
                rules,
                thresholds,
                bench,
                people,
                gateways,
                claims,
                settings.isDemo(),
                hub,
                clock,
                meters,
                health,
                watch,
                probes,
                settings.productVersion(),
                json);
        LiveEndpoint live = new LiveEndpoint(hub, api::clockEvent, gate::watch);
        ClockWatch clockWatch = new ClockWatch(hub, clock, System::nanoTime, api::clockEvent);
        Gauge.builder("rimecast.dashboard.live.viewers", hub, LiveHub::viewers)
                .description("Pages that are told of changes as they happen")
                .register(meters);
        Javalin server = Javalin.create(config -> {
            QueuedThreadPool threads = threads(meters);
            server(config, settings, json, threads);
            config.contextResolver.ip = ctx -> settings.proxies()
                    .client(ctx.req().getRemoteAddr(), ctx.req().getHeaders("X-Forwarded-For"));
            new RequestMeter(meters).install(config.routes);
            routes(config, new SameOrigin(settings.host()), gate, live, api.firstLook(), json);
            api.install(config.routes);
        });
        try {
            server.start();
        } catch (RuntimeException notListening) {
            live.close();
            clockWatch.close();
            throw notListening;
        }
        leaveIdleConnections(server);
        clockWatch.start();
        return new DashboardStage(server, live, clockWatch);
    }

    private static QueuedThreadPool threads(MeterRegistry meters) {
        QueuedThreadPool threads = new QueuedThreadPool(48, 4);
        threads.setName("dashboard");
        Gauge.builder("rimecast.dashboard.threads.busy", threads, QueuedThreadPool::getBusyThreads)
                .description("Threads that answer requests now, of 48")
                .register(meters);
        Gauge.builder("rimecast.dashboard.requests.waiting", threads, QueuedThreadPool::getQueueSize)
                .description("Requests that wait for a thread")
                .register(meters);
        return threads;
    }

    /** How we listen, whatever is answered then. */
    static void server(JavalinConfig config, DashboardSettings settings, JsonMapper json, QueuedThreadPool threads) {
        config.jetty.threadPool = threads;
        config.jetty.host = settings.host();
        config.jetty.port = settings.port();
        if (settings.tls().isPresent()) {
            config.jetty.addConnector((jetty, http) -> PagesTls.connector(jetty, http, settings));
        }
        config.jetty.modifyServer(server -> {
            server.setStopTimeout(LONGEST_STOP.toMillis());
            server.setErrorHandler(new QuietErrors());
        });
        config.jetty.modifyHttpConfiguration(http -> {
            http.setSendServerVersion(false);
            http.setSendDateHeader(true);
        });
        config.jsonMapper(new JavalinJackson3(json, false));
        // packed by Reply, which knows what stays the same and what streams
        config.http.compressionStrategy = CompressionStrategy.NONE;
        config.http.maxRequestSize = LONGEST_BODY_BYTES;
        config.http.prefer405over404 = true;
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
    }

    private static void routes(
            JavalinConfig config,
            SameOrigin sameOrigin,
            Gate gate,
            LiveEndpoint live,
            FirstLook firstLook,
            JsonMapper json) {
        Assets assets = new Assets();
        Pages pages = new Pages(assets);
        config.routes.before(SecurityHeaders::set);
        config.routes.before(sameOrigin::check);
        gate.install(config.routes);
        new Problems(
                        json,
                        pages::notFound,
                        ctx -> Gate.known(ctx)
                                .map(known -> known.person().name())
                                .orElse("nobody known"))
                .install(config.routes);
        for (Pages.Page page : Pages.Page.values()) {
            Access access = page.isOpen() ? Access.OPEN : Access.PAGE;
            Handler send = page == Pages.Page.FLEET
                    ? ctx -> pages.sendFleet(ctx, firstLook.of(ctx))
                    : ctx -> pages.send(ctx, page);
            config.routes.get(page.path(), send, access);
        }
        config.routes
                .get("/assets/{version}/<name>", assets::handle, Access.OPEN)
                .get("/api/v1/events", live::handle, Access.may(Permission.SEE));
    }

    /** A stop waits little for connections on which nothing happens. */
    static void leaveIdleConnections(Javalin server) {
        for (Connector connector : server.jettyServer().server().getConnectors()) {
            if (connector instanceof AbstractConnector network) {
                network.setShutdownIdleTimeout(IDLE_WHILE_STOPPING.toMillis());
            }
        }
    }

    /** Stops a server of ours. Who is still being answered after {@link #LONGEST_STOP} is cut off, which is no failure. */
    static void stop(Javalin server) {
        try {
            server.stop();
        } catch (JavalinException stopped) {
            if (!(stopped.getCause() instanceof TimeoutException)) {
                throw stopped;
            }
            LOG.warn("Requests were still open {} s after the stop began: they were cut off", LONGEST_STOP.toSeconds());
        }
    }

    /** Every route with its rules, as the server has them. */
    public Map<String, Set<RouteRole>> routes() {
        Map<String, Set<RouteRole>> routes = new TreeMap<>();
        for (ParsedEndpoint parsed : server.unsafe.internalRouter.allHttpHandlers()) {
            Endpoint endpoint = parsed.endpoint;
            if (endpoint.method.isHttpMethod()) {
                Roles roles = endpoint.metadata(Roles.class);
                routes.put(endpoint.method.name() + ' ' + endpoint.path, roles == null ? Set.of() : roles.getRoles());
            }
        }
        return routes;
    }

    /** Where it listens, known even where any free port was asked for. */
    public int port() {
        return server.port();
    }

    @Override
    public void close() {
        clockWatch.close();
        live.close();
        stop(server);
    }
}
