package dev.rimecast.benchmarks.year;

import dev.rimecast.alerts.AlertsInSteps;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The year of {@link AlarmYear} with a server: what is found goes through the stores, rules and notices of the product on a real
 * database, in event time, and an operator acknowledges ({@link Desk}). Writes the same files, leaves the database beside them,
 * and prints what the server showed and what was sent to whom, every 90 days for the time so far. To run it, after a build:
 *
 * <pre>{@code
 * java -cp benchmarks/target/benchmarks.jar dev.rimecast.benchmarks.year.NoticeYear DIR [SEED [SITES [DAYS]]]
 * }</pre>
 */
public final class NoticeYear {
    private static final Duration HOUR = Duration.ofHours(1);
    private static final long STEP_SECONDS = 600;
    private static final int HOURS_TOLD = 24 * 90;
    /** Nobody needs this database after a crash; a commit need not wait for the disk. */
    private static final String NOT_DURABLE = "?options=-c%20synchronous_commit=off";

    private final FleetPlan plan;
    private final Map<CaredSite, SiteNews> sites = new LinkedHashMap<>();

    private NoticeYear(FleetPlan plan, SimulatedFleet fleet) {
        this.plan = plan;
        for (SimulatedSite site : fleet.sites()) {
            SiteNews news = new SiteNews(site.site().id());
            sites.put(new CaredSite(plan, site, news), news);
        }
    }

    public static void main(String[] args) throws IOException {
        FleetPlan plan = AlarmYear.plan(args);
        Path out = Files.createDirectories(Path.of(args[0]));
        SimulatedFleet fleet = new SimulatedFleet(plan);
        NoticeYear year = new NoticeYear(plan, fleet);
        Path data = Files.createTempDirectory(out.toAbsolutePath(), "database");
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(data.resolve("postgres"), PostgresSettings.STANDARD);
                AlertsInSteps server = AlertsInSteps.open(
                        new DatabaseLogin(
                                postgres.jdbcUrl() + NOT_DURABLE,
                                postgres.user(),
                                postgres.password(),
                                Optional.of(new DatabaseLogin.Owner(postgres.owner(), postgres.ownerPassword()))),
                        NoticeBook.parse("notices.yaml", Desk.WHOM, Path.of("")),
                        plan.from())) {
            Policy policy = Policy.standard();
            server.register(plan.register(), policy.version(), policy.yaml());
            Desk desk = new Desk(server, plan.from());
            year.live(desk);
            AlarmYear.write(fleet, List.copyOf(year.sites.keySet()), out);
            desk.print(plan.to());
        }
    }

    private void live(Desk desk) {
        List<SiteNews> news = List.copyOf(sites.values());
        int hours = 0;
        for (Instant at = plan.from().plus(HOUR); !at.isAfter(plan.to()); at = at.plus(HOUR)) {
            Instant hour = at;
            List.copyOf(sites.keySet()).parallelStream().forEach(site -> site.advanceTo(hour));
            for (Instant step : steps(news, hour)) {
                desk.step(step, news);
            }
            hours++;
            if (hours % HOURS_TOLD == 0) {
                System.out.printf("%nUntil %s:%n", hour);
                desk.print(hour);
            }
        }
    }

    /** Ten minutes long where something was found, and the hour. */
    private static List<Instant> steps(List<SiteNews> news, Instant hour) {
        List<Instant> steps = new ArrayList<>();
        for (Instant step = hour.minus(HOUR).plusSeconds(STEP_SECONDS);
                step.isBefore(hour);
                step = step.plusSeconds(STEP_SECONDS)) {
            Instant end = step;
            Instant begin = end.minusSeconds(STEP_SECONDS);
            if (news.stream().anyMatch(site -> site.isFoundBetween(begin, end))) {
                steps.add(end);
            }
        }
        steps.add(hour);
        return steps;
    }
}
