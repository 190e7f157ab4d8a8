package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.gateways.MemoryGatewayStore;
import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.alerts.people.MemoryPeopleStore;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.people.Tokens;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.rules.MemoryRuleStore;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.alerts.rules.RuleStore;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.visits.calendar.CalendarLinks;
import dev.rimecast.alerts.visits.calendar.MemoryCalendarLinkStore;
import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.dashboard.DashboardStage;
import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.HealthView.StageHealth;
import dev.rimecast.dashboard.HealthView.State;
import dev.rimecast.dashboard.TrustedProxies;
import dev.rimecast.dashboard.access.Gate;
import io.javalin.security.RouteRole;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiFunction;
import java.util.function.IntFunction;

/** The dashboard over a fleet in memory. Its {@code main} is for looking at pages while working on them. */
public final class FakeServer implements AutoCloseable {
    /** Who a browser comes in as. */
    public static final String OPERATOR = "Noor";

    private final FakeChanges changes = new FakeChanges();
    private final PrometheusMeterRegistry meters = new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
    private final FakeFigures figures = new FakeFigures(meters);
    private final FakeFleet fleet;
    private final FakeSiteLinks siteLinks;
    private final RuleStore ruleStore = new MemoryRuleStore();
    private final RuleDesk rules;
    private final FakeBench bench;
    private final FakeMarks marks;
    private final FakeClaims claims;
    private final IntFunction<DashboardStage> opening;
    private DashboardStage stage;
    private final FakeWork work;
    private final Visits visits;
    private final CalendarLinks calendars;
    private final InstantSource clock;
    private String screen = "";
    private Optional<DashboardSettings.Tls> tls = Optional.empty();
    private TrustedProxies proxies = TrustedProxies.NONE;
    private final MemoryPeopleStore peopleStore = new MemoryPeopleStore();
    private final People people;

    private FakeServer(
            int port,
            InstantSource clock,
            BiFunction<InstantSource, FakeChanges, FakeFleet> fleets,
            String demo,
            boolean entersByItself,
            FactorRule secondFactor) {
        this.clock = clock;
        people = People.of(peopleStore, secondFactor, InstantSource.system());
        account(OPERATOR, Role.OPERATOR, SiteScope.EVERY);
        fleet = fleets.apply(clock, changes);
        siteLinks = new FakeSiteLinks(fleet, changes, clock);
        visits = FakeVisits.of(fleet, changes, clock);
        calendars = new CalendarLinks(new MemoryCalendarLinkStore(), visits, people.entrance()::seeing, clock);
        rules = new RuleDesk(
                ruleStore, new BooksInForce(), book -> FakeJudgement.of(fleet, book, clock.instant()), clock, () -> {});
        FakeEvents events = FakeEvents.small(fleet, changes, clock);
        marks = new FakeMarks(clock);
        FakeCommissioning commissioning = new FakeCommissioning(fleet, clock);
        work = new FakeWork(fleet, events, clock);
        HealthView health = new HealthView(
                List.of(
                        new StageHealth("ingest", State.UP, ""),
                        new StageHealth("analytics", State.UP, ""),
                        new StageHealth("alerts", State.UP, ""),
                        new StageHealth("history", State.UP, "")),
                demo.isEmpty() ? Optional.empty() : Optional.of(demo));
        FakeNotices notices = notices(clock);
        bench = new FakeBench(clock);
        claims = new FakeClaims(fleet, clock);
        opening = at -> DashboardStage.start(
                new DashboardSettings("127.0.0.1", at, tls, proxies, "0.1.0-test", entersByItself),
                fleet,
                fleet,
                new FakeInquiries(fleet, siteLinks, clock),
                siteLinks,
                events,
                notices,
                work,
                commissioning,
                marks,
                visits,
                calendars,
                changes,
                rules,
                FakeThresholds.SOME,
                bench,
                people,
                new GatewayDesk(new MemoryGatewayStore(), clock),
                claims,
                clock,
                meters,
                () -> health,
                new FakeSystem(clock, claims),
                FakeProbes.WELL);
        stage = opening.apply(port);
    }

    private FakeNotices notices(InstantSource clock) {
        return fleet.sites().isEmpty()
                ? FakeNotices.empty()
                : FakeNotices.small(clock.instant(), fleet.sites().get(0).id());
    }

    /** A browser comes in by itself, as the operator. */
    public static FakeServer start(BiFunction<InstantSource, FakeChanges, FakeFleet> fleets) {
        return new FakeServer(0, InstantSource.system(), fleets, "", true, FactorRule.OPTIONAL);
    }

    /** As an installation: nobody comes in by themselves. */
    public static FakeServer guarded(BiFunction<InstantSource, FakeChanges, FakeFleet> fleets) {
        return guarded(fleets, FactorRule.OPTIONAL);
    }

    /** As an installation whose accounts must have a second factor. */
    public static FakeServer guarded(
            BiFunction<InstantSource, FakeChanges, FakeFleet> fleets, FactorRule secondFactor) {
        return new FakeServer(0, InstantSource.system(), fleets, "", false, secondFactor);
    }

    /** As in a demonstration, with the sentence that its pages show. */
    public static FakeServer demonstration(InstantSource clock, String sentence) {
        return new FakeServer(0, clock, FakeFleets::small, sentence, true, FactorRule.OPTIONAL);
    }

    /** Opens it again, on another port, over TLS. */
    public FakeServer overTls(DashboardSettings.Tls certificate) {
        stage.close();
        tls = Optional.of(certificate);
        stage = opening.apply(0);
        return this;
    }

    /** Opens it again, on another port, behind these. */
    public FakeServer behind(TrustedProxies believed) {
        stage.close();
        proxies = believed;
        stage = opening.apply(0);
        return this;
    }

    public int port() {
        return stage.port();
    }

    public People people() {
        return people;
    }

    /** What was noted about accounts: who, what and of whom. */
    public List<String> audit() {
        return peopleStore.notes(Integer.MAX_VALUE).stream()
                .map(note -> note.who() + ": " + note.what() + ", " + note.detail())
                .toList();
    }

    /** The routes that the server has, each with its rules. */
    public Map<String, Set<RouteRole>> routes() {
        return stage.routes();
    }

    /** The account of that name, made where there is none. It is entered without a password. */
    public Account account(String name, Role role, SiteScope sites) {
        return people.accounts().demo(name, role, sites);
    }

    /** Headers of a new session of an account: what a browser would send with a change. */
    public List<String> headers(Account account) {
        String token = people.signIn().asDemo(account.id(), "127.0.0.1", "test").orElseThrow();
        return List.of(
                "Cookie",
                "rimecast-session-" + stage.port() + '=' + token,
                Gate.FORGERY_HEADER,
                Secret.forgeryToken(token));
    }

    /** Who somebody is to the server, in a new session. */
    public Visitor visitor(Account account) {
        String token = people.signIn().asDemo(account.id(), "127.0.0.1", "test").orElseThrow();
        return people.entrance().bySession(token).orElseThrow();
    }

    /** The secret of a link for a wall screen, made by a manager. */
    public String screen(SiteScope sites) {
        Visitor manager = visitor(account(Role.MANAGER.code(), Role.MANAGER, SiteScope.EVERY));
        Answer<Tokens.Made> made = people.tokens()
                .make(manager, "wall", Role.SCREEN, sites, clock.instant().plus(Duration.ofDays(1)));
        return ((Answer.Done<Tokens.Made>) made).value().secret();
    }

    /** Headers of a new session of somebody with that role who sees every site; of a link where it is no person's. */
    public List<String> headers(Role role) {
        if (!role.isForPeople()) {
            if (screen.isEmpty()) {
                screen = screen(SiteScope.EVERY);
            }
            return List.of("Authorization", "Bearer " + screen);
        }
        return headers(account(role == Role.OPERATOR ? OPERATOR : role.code(), role, SiteScope.EVERY));
    }

    public CalendarLinks calendars() {
        return calendars;
    }

    public Visits visits() {
        return visits;
    }

    public FakeClaims claims() {
        return claims;
    }

    public FakeMarks marks() {
        return marks;
    }

    public FakeBench bench() {
        return bench;
    }

    public RuleDesk rules() {
        return rules;
    }

    /** To put in what no desk would save. */
    public RuleStore ruleStore() {
        return ruleStore;
    }

    public FakeSiteLinks siteLinks() {
        return siteLinks;
    }

    public FakeWork work() {
        return work;
    }

    public FakeFigures figures() {
        return figures;
    }

    public FakeFleet fleet() {
        return fleet;
    }

    public FakeChanges changes() {
        return changes;
    }

    /** How many screens listen. */
    public int viewers() {
        return (int) meters.get("rimecast.dashboard.live.viewers").gauge().value();
    }

    public String url(String path) {
        return "http://localhost:" + stage.port() + path;
    }

    /** As a connection that is gone: nothing answers any more. */
    public int fallSilent() {
        int port = stage.port();
        stage.close();
        return port;
    }

    /** The same server, with all that it knew. */
    public void answerAgain(int port) {
        stage = opening.apply(port);
    }

    @Override
    public void close() {
        stage.close();
    }

    /** Arguments: port, then {@code small}, {@code care}, {@code empty} or a number of machines, then a sentence for a demonstration. */
    public static void main(String[] args) throws InterruptedException {
        String size = args[1];
        FakeServer server = new FakeServer(
                Integer.parseInt(args[0]),
                InstantSource.system(),
                (clock, changes) -> switch (size) {
                    case "small" -> FakeFleets.small(clock, changes);
                    case "care" -> FakeFleets.careDue(clock, changes);
                    case "empty" -> FakeFleets.empty(clock, changes);
                    default -> FakeFleets.large(clock, changes, Integer.parseInt(size));
                },
                args.length > 2 ? args[2] : "",
                true,
                FactorRule.OPTIONAL);
        for (Role role : Role.values()) {
            if (role.isForPeople()) {
                server.account(role == Role.OPERATOR ? OPERATOR : role.code(), role, SiteScope.EVERY);
            }
        }
        System.out.println(server.url("/"));
        Thread.currentThread().join();
    }
}
