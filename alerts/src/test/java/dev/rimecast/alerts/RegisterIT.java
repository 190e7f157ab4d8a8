package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.gateways.GatewayCredential;
import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.register.MachineClaims;
import dev.rimecast.alerts.register.RegisterImport.Result;
import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.gateway.GatewayKeysJson;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.log.SiteRecord.SiteChanged;
import dev.rimecast.telemetry.log.SiteRecord.Unregistered;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What the sites' logs and the compacted topics hold after imports and reports. */
class RegisterIT {
    private static final InstantSource CLOCK = InstantSource.fixed(NOON);
    private static final Machine ICE_1 = Machine.basic("ice-1", "north", "gw-n");
    private static final Machine ICE_2 = Machine.basic("ice-2", "south", "gw-s");

    private Engines engines;
    private AlertsStage stage;

    @BeforeEach
    void start() {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(60));
        engines = new Engines();
        stage = engines.startStage(CLOCK);
    }

    @AfterEach
    void stop() {
        stage.close();
        engines.close();
    }

    @Test
    void imports_oneAfterTheOther_leaveCompleteLogsInOrder() {
        SiteRecord policy1 = new PolicyActivated(NOON, "v1", "a: 1");
        SiteRecord policy2 = new PolicyActivated(NOON, "v2", "a: 2");
        Site north = Site.basic("north");
        Site south = Site.basic("south");
        Site east = Site.basic("east");

        Result first = apply(register(ICE_1, ICE_2), "v1", "a: 1");
        assertThat(first).isEqualTo(new Result(2, 2, true));
        assertThat(apply(register(ICE_1, ICE_2), "v1", "a: 1")).isEqualTo(new Result(0, 0, false));
        assertThat(engines.siteLog("north"))
                .containsExactly(policy1, new SiteChanged(NOON, north), new Registered(NOON, ICE_1));

        Machine moved = Machine.basic("ice-2", "east", "gw-e");
        assertThat(apply(register(ICE_1, moved), "v1", "a: 1")).isEqualTo(new Result(1, 2, false));
        assertThat(engines.siteLog("south"))
                .containsExactly(
                        policy1,
                        new SiteChanged(NOON, south),
                        new Registered(NOON, ICE_2),
                        moved("to another site"),
                        new Unregistered(NOON, "ice-2"));
        assertThat(engines.siteLog("east"))
                .as("a new site gets the policy in force")
                .containsExactly(
                        policy1, new SiteChanged(NOON, east), new Registered(NOON, moved), moved("from another site"));
        assertThat(stage.siteEvents().ofMachine(SiteScope.EVERY, "ice-2", Optional.empty(), 10))
                .as("what happened follows the machine")
                .extracting(EventView::site, EventView::kind)
                .containsExactly(tuple("east", EventKind.MOVED), tuple("south", EventKind.MOVED));
        assertThat(stage.siteEvents().ofSite(SiteScope.of(List.of("south")), "south", Optional.empty(), 10))
                .extracting(EventView::detail)
                .as("names no site that one may not see")
                .containsExactly("to another site");
        assertThat(apply(register(ICE_1, moved), "v1", "a: 1")).isEqualTo(new Result(0, 0, false));
        assertThat(stage.siteEvents().ofMachine(SiteScope.EVERY, "ice-2", Optional.empty(), 10))
                .as("the same import again")
                .hasSize(2);

        assertThat(apply(register(ICE_1), "v2", "a: 2")).isEqualTo(new Result(1, 1, true));
        assertThat(engines.siteLog("east")).endsWith(new Unregistered(NOON, "ice-2"));
        assertThat(engines.siteLog("north")).endsWith(policy2);
        assertThat(stage.registerImport().current().machines()).containsExactly(ICE_1);

        Map<String, List<byte[]>> registry = engines.read(Topics.REGISTRY);
        assertThat(last(registry, "machine/ice-1")).contains(new Registered(NOON, ICE_1));
        assertThat(last(registry, "machine/ice-2")).isEmpty();
        assertThat(last(registry, "site/east")).isEmpty();
        assertThat(last(engines.read(Topics.POLICIES), "v2")).contains(policy2);
        assertThatThrownBy(() -> apply(register(ICE_1), "v1", "a: 3"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("v1");
    }

    @Test
    void keysOfGateways_areKept_andReachIngestByTheirTopic() {
        GatewayDesk desk = stage.gateways();
        String first = made(desk.addSecret("Ada", "gw-9"));
        String second = made(desk.rotate("Ben", "gw-9", Duration.ZERO));
        made(desk.addSecret("Ada", "gw-8"));
        awaitEmptyOutbox();
        assertThat(keys("gw-9"))
                .extracting(GatewayKey::sha256)
                .containsExactly(GatewayKey.digest(second))
                .doesNotContain(GatewayKey.digest(first));

        stage.close();
        stage = engines.startStage(CLOCK);
        assertThat(stage.gateways().list())
                .filteredOn(one -> one.gateway().equals("gw-9"))
                .extracting(GatewayCredential::addedBy, GatewayCredential::endedBy)
                .containsExactlyInAnyOrder(tuple("Ben", Optional.empty()), tuple("Ada", Optional.of("Ben")));
        assertThat(stage.gateways().revoke("Cleo", "gw-9")).isInstanceOf(Answer.Done.class);
        awaitEmptyOutbox();
        assertThat(keys("gw-9")).as("it had keys: it stays locked").isEmpty();
        assertThat(keys("gw-8")).hasSize(1);
    }

    private static Happened moved(String detail) {
        return new Happened(NOON, Optional.of("ice-2"), EventKind.MOVED, detail, "the register", "");
    }

    private static String made(Answer<GatewayDesk.Made> answer) {
        return ((Answer.Done<GatewayDesk.Made>) answer).value().secret().orElseThrow();
    }

    private List<GatewayKey> keys(String gateway) {
        List<byte[]> rows =
                Objects.requireNonNull(engines.read(Topics.CREDENTIALS).get(gateway));
        return GatewayKeysJson.decode(rows.get(rows.size() - 1));
    }

    @Test
    void claim_goesTheWayOfAnImport_andIsThereOnceOfTwo() {
        apply(register(ICE_1, ICE_2), "v1", "a: 1");
        Machine ice3 = Machine.basic("ice-3", "north", "gw-n");
        Machine ice4 = Machine.basic("ice-4", "west", "gw-w");

        assertThat(stage.claims().claim("Ada", ice3, false)).isInstanceOf(Answer.Done.class);
        assertThat(refusal(stage.claims().claim("Ben", ice3, false)))
                .contains("ice-3 is in the register already, on site north behind gateway gw-n", "claimed by Ada");
        assertThat(refusal(stage.claims().claim("Ben", ICE_2, false))).contains("by machines.csv");
        assertThat(refusal(stage.claims().claim("Ben", Machine.basic("ice-5", "north", "gw-s"), false)))
                .contains("gw-s stands on site south and not on north");
        assertThat(refusal(stage.claims().claim("Ben", ice4, false))).contains("there is no site west");
        assertThat(stage.claims().claim("Ben", ice4, true)).isInstanceOf(Answer.Done.class);
        awaitEmptyOutbox();

        assertThat(engines.siteLog("north")).endsWith(new Registered(NOON, ice3));
        assertThat(engines.siteLog("west"))
                .as("a new site gets the policy in force")
                .containsExactly(
                        new PolicyActivated(NOON, "v1", "a: 1"),
                        new SiteChanged(NOON, Site.basic("west")),
                        new Registered(NOON, ice4));
        assertThat(last(engines.read(Topics.REGISTRY), "machine/ice-3")).contains(new Registered(NOON, ice3));
        assertThat(notes()).containsExactly("Ben machine claimed ice-4", "Ada machine claimed ice-3");

        assertThat(refusal(stage.claims().release("Cleo", "ice-2"))).contains("machines.csv");
        assertThat(stage.claims().release("Cleo", "ice-9")).isInstanceOf(Answer.NotFound.class);
        assertThat(stage.claims().release("Cleo", "ice-3")).isInstanceOf(Answer.Done.class);
        assertThat(stage.claims().release("Cleo", "ice-3")).isInstanceOf(Answer.NotFound.class);
        awaitEmptyOutbox();
        assertThat(engines.siteLog("north")).endsWith(new Unregistered(NOON, "ice-3"));
        assertThat(last(engines.read(Topics.REGISTRY), "machine/ice-3")).isEmpty();
        assertThat(stage.registerImport().current().machines()).containsExactlyInAnyOrder(ICE_1, ICE_2, ice4);
        assertThat(notes()).first().isEqualTo("Cleo claimed machine taken out ice-3");
    }

    @Test
    void claimedMachine_staysOverAStart_untilTheFileNamesIt() {
        apply(register(ICE_1), "v1", "a: 1");
        Machine claimed = Machine.basic("ice-3", "west", "gw-w");
        stage.claims().claim("Ada", claimed, true);
        stage.close();
        stage = engines.startStage(CLOCK);

        assertThat(apply(register(ICE_1), "v1", "a: 1"))
                .as("a file that does not name it")
                .isEqualTo(new Result(0, 0, false));
        assertThat(apply(register(ICE_1, Machine.basic("ice-6", "east", "gw-w")), "v1", "a: 1"))
                .as("its gateway stands elsewhere: one more machine, and the claimed one goes with it")
                .isEqualTo(new Result(2, 2, false));
        Machine moved = Machine.basic("ice-3", "east", "gw-w");
        assertThat(stage.claims().list()).containsExactly(new MachineClaims.Claim(moved, NOON, "Ada"));
        assertThat(engines.siteLog("west")).endsWith(new Unregistered(NOON, "ice-3"));

        Machine inFile = MachinesFile.readOne(
                Map.of("machine", "ice-3", "site", "east", "gateway", "gw-w", "rated_kg_per_day", "80"));
        apply(register(ICE_1, inFile), "v1", "a: 1");
        assertThat(stage.claims().list()).as("the file has it now").isEmpty();
        assertThat(stage.registerImport().current().machines()).containsExactly(ICE_1, inFile);
        assertThat(notes()).first().isEqualTo("start of the server claimed machine is in the file ice-3");
        apply(register(ICE_1), "v1", "a: 1");
        assertThat(stage.registerImport().current().machines())
                .as("and takes it out")
                .containsExactly(ICE_1);
    }

    /** The newest first. */
    private List<String> notes() {
        return engines.jdbi()
                .withHandle(
                        handle -> handle.createQuery("select who || ' ' || what || ' ' || split_part(detail, ':', 1)"
                                        + " from account_audit where what like '%machine%' order by id desc")
                                .mapTo(String.class)
                                .list());
    }

    private static String refusal(Answer<?> answer) {
        assertThat(answer).isInstanceOf(Answer.Refused.class);
        return ((Answer.Refused<?>) answer).reason();
    }

    @Test
    void report_reachesTheSitesLog_alsoAfterAStopInBetween() {
        apply(register(ICE_1, ICE_2), "v1", "a: 1");
        Happened call = new Happened(NOON, Optional.of("ice-1"), EventKind.CALL, "little-ice", "bar", "4711");
        Happened cleaned = new Happened(NOON.plusSeconds(5), Optional.of("ice-1"), EventKind.CLEANED, "", "ada", "");

        stage.siteEvents().report(call, "north");
        stage.close();
        stage = engines.startStage(CLOCK);
        stage.siteEvents().report(cleaned, "north");
        awaitEmptyOutbox();

        assertThat(engines.siteLog("north")).endsWith(call, cleaned);
        assertThatThrownBy(() -> stage.siteEvents().report(call, "south"))
                .hasMessageContaining("ice-1 stands on site north");
        assertThatThrownBy(() -> stage.siteEvents().report(call, "west")).hasMessageContaining("no site west");
    }

    private Result apply(Register register, String version, String yaml) {
        Result result = stage.registerImport().apply(register, version, yaml);
        awaitEmptyOutbox();
        return result;
    }

    private void awaitEmptyOutbox() {
        await().until(() -> engines.jdbi()
                        .withHandle(h -> h.createQuery("select count(*) from log_outbox")
                                .mapTo(Integer.class)
                                .one())
                == 0);
    }

    private static Optional<SiteRecord> last(Map<String, List<byte[]>> topic, String key) {
        List<byte[]> values = topic.getOrDefault(key, List.of());
        assertThat(values).as(key).isNotEmpty();
        byte[] value = values.get(values.size() - 1);
        return value.length == 0 ? Optional.empty() : Optional.of(SiteLogCodec.decode(value));
    }

    private static Register register(Machine... machines) {
        return new Register(List.of(machines), List.of());
    }
}
