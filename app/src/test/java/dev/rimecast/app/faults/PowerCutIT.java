package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.app.server.LoopbackSettings;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.spine.Http;
import dev.rimecast.telemetry.log.Topics;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * A region loses its power, and some hours later all of it comes back at once: one case a site, no more than one notice that needs
 * action for each, pages that answer meanwhile, and alerts that end by themselves: what is left is for people to say that they
 * have seen it. {@code -Dregion.sites} sets how many sites of eight
 * machines (one has 500); the long profile has 800, and 5,000 and some machines go dark.
 */
@EnabledIfSystemProperty(
        named = "faults",
        matches = "long",
        disabledReason = "takes minutes of processor time: mvn -Pfaults,faults-long verify")
class PowerCutIT {
    private static final int SITES = Integer.getInteger("region.sites", 800);
    private static final long PATIENCE = Long.getLong("faults.patience", 1);
    private static final Instant START = Instant.parse("2026-05-04T08:00:00Z");
    private static final int WARM = 5;
    /** The standard policy says that a machine is silent after two hours of ticks. */
    private static final int DARK_AT_MOST = 240;

    private static final int LOOK_MINUTES = 10;

    /** Machines of which one pack tells. */
    private static final int IN_A_PACK = 50;
    /** Three by themselves, and then together. */
    private static final int MOST_MAILS = 8;

    private static final int LIGHT = 12;
    private static final int STILL_MINUTES = 15;
    private static final Duration LIMIT = Duration.ofSeconds(60 * PATIENCE);
    /** That the pages stay usable means this: ninety-nine of a hundred lists within so long. */
    private static final long LIST_MILLIS = 2_000 * PATIENCE;

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final AtomicReference<Instant> now = new AtomicReference<>(START);
    private final Region region = new Region(SITES, START);
    private int dark;
    private final List<String> said = new ArrayList<>();

    @Test
    void region_withoutPower_isOneCaseASite_noStorm_andEndsByItself() throws Exception {
        Path register = directory.resolve("machines.csv");
        region.writeRegister(register);
        try (NoticeSinks sinks = new NoticeSinks()) {
            sinks.write(directory.resolve("notices.yaml"));
            var settings = LoopbackSettings.withNotices(
                    LoopbackSettings.of(directory.resolve("data"), register),
                    NoticeBook.read(directory.resolve("notices.yaml")));
            try (Server server = Server.start(settings, now::get, Optional::empty, failure -> {})) {
                Http http = Http.of(server);
                awaitRegister(server);
                try (RegionLines lines = new RegionLines(server.mqttPort(), region.sites())) {
                    for (int minute = 0; minute < WARM; minute++) {
                        minute(server, lines, minute, false);
                    }
                }
                assertThat(cases(http)).as("cases before").isEmpty();
                try (PageProbe probe = new PageProbe(http)) {
                    goesDark(server, http);
                    everySiteIsTold(server, sinks);
                    comesBack(server, http);
                    said.add(probe.inWords());
                    assertThat(probe.bad()).as("answers that were none").isEmpty();
                    assertThat(probe.percentile(99)).as("p99 of lists, ms").isLessThan(LIST_MILLIS);
                }
                awaitNoticesStandStill(sinks);
            }
            notices(sinks);
            said.forEach(line -> System.out.println("power cut: " + line));
        }
    }

    /** A thousand sites take ingest some seconds to read, and readings of machines that it does not know yet wait apart. */
    private void awaitRegister(Server server) {
        int machines = region.machines();
        await().atMost(LIMIT)
                .pollInterval(Duration.ofMillis(200))
                .until(() -> server.meters()
                                .get("rimecast.ingest.register.machines")
                                .gauge()
                                .value()
                        == machines);
    }

    private void goesDark(Server server, Http http) throws Exception {
        long began = System.nanoTime();
        Map<String, String> expected = expected();
        try (RegionLines lines = new RegionLines(server.mqttPort(), lit())) {
            while (!sites(http).equals(List.copyOf(expected.keySet())) && dark < DARK_AT_MOST) {
                int until = dark + LOOK_MINUTES;
                for (; dark < until; dark++) {
                    minute(server, lines, WARM + dark, true);
                }
            }
        }
        // The simulated minutes go by faster than the database can take what they bring.
        await().atMost(LIMIT)
                .pollInterval(Duration.ofSeconds(1))
                .untilAsserted(() -> assertThat(sites(http))
                        .as("one case for each site that lost its power, and none elsewhere")
                        .containsExactlyElementsOf(expected.keySet()));
        assertThat(cases(http))
                .allSatisfy(one -> assertThat(one.path("common").asString(""))
                        .as("what case %s is", one.path("title"))
                        .isEqualTo(expected.get(one.path("site").asString())));
        Map<String, Integer> sizes =
                region.sites().stream().collect(Collectors.toMap(Region.Site::name, site -> site.size() - 1));
        assertThat(cases(http))
                .as("alerts of each case: a gateway, or all machines but one")
                .allSatisfy(one -> assertThat(one.path("alerts").size())
                        .isIn(1, sizes.get(one.path("site").asString())));
        said.add(
                "%d sites, %d machines, %d of them dark; dark for %d simulated minutes, %.0f s until every case was there"
                        .formatted(
                                region.sites().size(),
                                region.machines(),
                                region.dark(),
                                dark,
                                (System.nanoTime() - began) / 1e9));
    }

    /** While the clock of the product hardly moves: its notices take time of the wall. */
    /**
     * Dark minutes go on, for what waits to go together. A gateway that is silent for hours is of low priority for two days, of
     * which the pages and the digest tell; where machines are silent beside one that is heard, somebody is told.
     */
    private void everySiteIsTold(Server server, NoticeSinks sinks) throws Exception {
        long began = System.nanoTime();
        List<String> told = region.that(Region.Loses.ALL_BUT_GATEWAY_AND_ONE).stream()
                .map(Region.Site::name)
                .toList();
        try (RegionLines lines = new RegionLines(server.mqttPort(), lit())) {
            await().atMost(LIMIT).pollInterval(Duration.ofSeconds(1)).untilAsserted(() -> {
                minute(server, lines, WARM + dark, true);
                dark++;
                assertThat(sinks.posted())
                        .as("notices by webhook, one for each site")
                        .hasSize(told.size());
                String mailed = sinks.mailedText();
                assertThat(told.stream().filter(site -> !mailed.contains(site)))
                        .as("sites that stand in no mail")
                        .isEmpty();
            });
        }
        assertThat(sinks.mailed().size()).as("mails").isLessThanOrEqualTo(MOST_MAILS);
        said.add("%d posts, and %d mails in which every site stands, the last %.0f s after the last case"
                .formatted(told.size(), sinks.mailed().size(), (System.nanoTime() - began) / 1e9));
    }

    private List<Region.Site> lit() {
        return region.sites().stream().filter(site -> !site.lit().isEmpty()).toList();
    }

    private Map<String, String> expected() {
        Map<String, String> expected = new TreeMap<>();
        region.that(Region.Loses.EVERYTHING).forEach(site -> expected.put(site.name(), "gateway-down"));
        region.that(Region.Loses.ALL_BUT_GATEWAY_AND_ONE).forEach(site -> expected.put(site.name(), "power-cut"));
        return expected;
    }

    private void comesBack(Server server, Http http) throws Exception {
        long began = System.nanoTime();
        double connected;
        try (RegionLines lines = new RegionLines(server.mqttPort(), region.sites())) {
            connected = (System.nanoTime() - began) / 1e9;
            for (int minute = WARM + dark; minute < WARM + dark + LIGHT; minute++) {
                minute(server, lines, minute, false);
            }
        }
        await().atMost(LIMIT)
                .pollInterval(Duration.ofMillis(500))
                .untilAsserted(() -> assertThat(open(server).stream()
                                .filter(alert -> alert.state().isActive()))
                        .as("alerts that go on")
                        .isEmpty());
        said.add("power is back: all gateways connected after %.1f s, every alert over after %.0f s; %d wait to be seen"
                .formatted(
                        connected,
                        (System.nanoTime() - began) / 1e9,
                        open(server).size()));
        long seen = System.nanoTime();
        open(server)
                .forEach(alert -> server.alerts()
                        .actions()
                        .acknowledge(alert.finding().id(), alert.version(), "Robin", "power is back"));
        await().atMost(LIMIT)
                .pollInterval(Duration.ofMillis(500))
                .untilAsserted(() -> assertThat(sites(http)).as("open cases").isEmpty());
        said.add("every case over %.1f s after somebody had begun to say that the alerts were seen"
                .formatted((System.nanoTime() - seen) / 1e9));
    }

    private static List<AlertView> open(Server server) {
        return server.alerts().views().alerts(AlertFilter.OPEN, 10_000);
    }

    /** One minute of everybody who has power. */
    private void minute(Server server, RegionLines lines, int minute, boolean isDark) throws Exception {
        now.set(START.plus(Duration.ofMinutes(minute)));
        for (Region.Site site : region.sites()) {
            List<String> machines = isDark ? site.lit() : site.machines();
            if (!machines.isEmpty()) {
                for (int from = 0; from < machines.size(); from += IN_A_PACK) {
                    List<String> some = machines.subList(from, Math.min(machines.size(), from + IN_A_PACK));
                    lines.publish(site, region.readings(some, minute));
                }
            }
        }
        lines.awaitReceipts();
        // The minute's tick is written at the next look, and is judged like the packs before it.
        await().pollInterval(Duration.ofMillis(30)).atMost(LIMIT).until(() -> isUpToDate(server));
    }

    private static boolean isUpToDate(Server server) {
        // What is an hour old by the clock when it is taken in is recorded and not told, and the clock goes fast here.
        double said =
                server.meters().get("rimecast.analytics.findings").counter().count();
        double taken = server.meters()
                .get("rimecast.alerts.records")
                .tag("topic", Topics.FINDINGS)
                .tag("outcome", "taken")
                .counter()
                .count();
        return server.analytics().lagRecords() < 2_000 && said - taken < 100;
    }

    private static List<JsonNode> cases(Http http) {
        String answer = http.get("/api/v1/cases?open=true&limit=2000");
        List<JsonNode> cases = new ArrayList<>();
        JsonMapper.shared().readTree(answer).forEach(cases::add);
        return cases;
    }

    private static List<String> sites(Http http) {
        return cases(http).stream()
                .map(one -> one.path("site").asString())
                .sorted()
                .toList();
    }

    /** What waits to go together goes within ten minutes. */
    private void awaitNoticesStandStill(NoticeSinks sinks) {
        int[] before = {-1};
        int[] still = {0};
        await().atMost(LIMIT).pollInterval(Duration.ofSeconds(1)).until(() -> {
            now.updateAndGet(at -> at.plusSeconds(60));
            int all = sinks.mailed().size() + sinks.posted().size();
            still[0] = all == before[0] ? still[0] + 1 : 0;
            before[0] = all;
            return still[0] > STILL_MINUTES;
        });
    }

    private void notices(NoticeSinks sinks) throws SQLException {
        try (Aftermath store = Aftermath.of(directory.resolve("data"))) {
            assertThat(store.rows("select state, detail from notice_delivery where state not in ('sent', 'cancelled')"))
                    .as("left to send")
                    .isEmpty();
            assertThat(store.rows("select site, receiver, count(*) from notice_delivery where state = 'sent'"
                            + " and kind in ('raised', 'worse') group by site, receiver having count(*) > 1"))
                    .as("more than one notice of trouble for a site and a receiver")
                    .isEmpty();
            String ends =
                    "select e.site from notice_delivery e where e.kind = 'over' and e.state = 'sent' and not exists"
                            + " (select 1 from notice_delivery b where b.matter = e.matter and b.receiver = e.receiver"
                            + " and b.kind in ('raised', 'worse') and b.state = 'sent' and b.sequence < e.sequence)";
            assertThat(store.rows(ends))
                    .as("told that it is over, and not that it began")
                    .isEmpty();
            String open =
                    "select b.site from notice_delivery b where b.kind in ('raised', 'worse') and b.state = 'sent'"
                            + " and not exists (select 1 from notice_delivery e where b.matter = e.matter"
                            + " and b.receiver = e.receiver and e.kind = 'over' and e.state = 'sent')";
            assertThat(store.rows(open))
                    .as("told that it began, and not that it is over")
                    .isEmpty();
            assertThat(sinks.mailed()).as("no mail twice").doesNotHaveDuplicates();
            List<List<String>> byKind =
                    store.rows("select kind, state, channel, count(*), count(distinct site) from notice_delivery"
                            + " group by kind, state, channel order by kind, state, channel");
            said.add("notices (kind, state, channel, how many, sites): " + byKind);
            said.add("mails in all %d, posts in all %d"
                    .formatted(sinks.mailed().size(), sinks.posted().size()));
            assertThat(byKind).as("somebody was told").isNotEmpty();
        }
    }
}
