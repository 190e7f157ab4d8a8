package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.ack.PackGap;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * Turns one site's log into cycles and findings: the same records in the same order give the same output, whoever
 * feeds them, however often it was saved and restored in between. One thread at a time; different sites share nothing.
 *
 * <p>Conservation: {@link MonitorCounts}.
 */
public final class SiteMonitor {
    /** Key of the site's own state beside those of its machines. */
    public static final String SITE_KEY = "";

    private static final String POLICY_KEY = "~policy";
    /** Behind the machine's id: what it has learned. */
    private static final String LEARNED = "~learned";
    /** From this layout on the site's state has its water. */
    private static final int WITH_WATER = 5;

    private static final int WITH_CLOSED_DAYS = 6;

    private static final int TICKS_AN_HOUR = 60;
    private static final int TICKS_A_DAY = 24 * TICKS_AN_HOUR;
    private static final long DAY_MILLIS = 86_400_000;

    /** Takes what is decided, in order. */
    public interface Output {
        void cycle(Cycle cycle);

        void finding(Finding finding);

        void proof(Proof proof);

        /** Numbered packs that never came are given up; no finding comes of it. */
        default void gap(PackGap gap) {}
    }

    private final String site;
    private final PolicyShelf policies;
    private Tally tally = new Tally();
    private SiteWeather weather = new SiteWeather();
    private final ClosedDays closedDays = new ClosedDays();
    private final SiteWater water = new SiteWater(this::waterSigns);
    private long ticks;
    private final Map<String, GatewayMonitor> gateways = new TreeMap<>();
    private final Map<String, MachineMonitor> machines = new TreeMap<>();
    /** The same, to be found by every reading. */
    private final Map<String, MachineMonitor> byId = new HashMap<>();

    private final TreeSet<String> touched = new TreeSet<>();
    /** Whether {@code touched} has the site; each machine knows so of itself. Asked for with every pack and reading. */
    private boolean isSiteTouched;

    /** Where it is noted what readings come to; null mostly. */
    private @Nullable TapeWriter tape;

    private Function<MachineMonitor, CycleTap> taps = machine -> CycleTap.NONE;

    private SiteMonitor(String site, PolicyShelf policies) {
        this.site = site;
        this.policies = policies;
    }

    /**
     * Notes from now on what its readings come to: from the first record on, or, between any two, after all that is known until then. Not
     * of one whose changes somebody else saves.
     */
    public void tapedBy(TapeWriter writer) {
        if (!machines.isEmpty() || !gateways.isEmpty()) {
            touched.addAll(machines.keySet());
            touched.add(SITE_KEY);
            touched.add(POLICY_KEY);
            saveTouched(writer::known);
        }
        tape = writer;
        tapped(writer::of);
    }

    void tapped(Function<MachineMonitor, CycleTap> by) {
        taps = by;
        machines.values().forEach(machine -> machine.tapped(by.apply(machine)));
    }

    @Nullable
    MachineMonitor machine(String id) {
        return byId.get(id);
    }

    /** A site of which nothing is known yet. */
    public static SiteMonitor fresh(String site, Policy policy) {
        SiteMonitor monitor = new SiteMonitor(site, new PolicyShelf(policy));
        monitor.touched.add(POLICY_KEY);
        monitor.touched.add(SITE_KEY);
        return monitor;
    }

    /**
     * Goes on where {@link #saveTouched} left off.
     *
     * @param states the newest bytes of every key that was handed over and not removed since
     * @throws IllegalStateException if the bytes are not a site's state of this layout
     */
    public static SiteMonitor restore(String site, Map<String, byte[]> states) {
        PolicyShelf policies = PolicyShelf.restore(required(site, states, POLICY_KEY));
        SiteMonitor monitor = new SiteMonitor(site, policies);
        StateReader in = new StateReader(required(site, states, SITE_KEY));
        int version = StateVersion.SITE.require(in);
        monitor.tally = Tally.restore(in);
        monitor.ticks = in.whole();
        monitor.weather = SiteWeather.restore(in);
        for (int count = in.wholeInt(); count > 0; count--) {
            GatewayMonitor gateway = GatewayMonitor.restore(site, in, version);
            monitor.gateways.put(gateway.gateway(), gateway);
        }
        if (version >= WITH_WATER) {
            monitor.water.restore(in);
        }
        if (version >= WITH_CLOSED_DAYS) {
            monitor.closedDays.restore(in);
        }
        states.forEach((key, bytes) -> {
            if (!key.equals(SITE_KEY) && !key.equals(POLICY_KEY) && !key.endsWith(LEARNED)) {
                byte[] learned = states.get(key + LEARNED);
                monitor.put(key, MachineMonitor.restore(bytes, learned, policies, monitor.weather, monitor.water));
            }
        });
        return monitor;
    }

    private static byte[] required(String site, Map<String, byte[]> states, String key) {
        byte[] bytes = states.get(key);
        if (bytes == null) {
            throw new IllegalStateException("the state of site " + site + " has no part '" + key + "'");
        }
        return bytes;
    }

    /**
     * Takes the next record of the log.
     *
     * @throws dev.rimecast.telemetry.yaml.YamlProblems if the record is a policy that is none; nothing has changed then
     */
    public void accept(SiteRecord record, Output out) {
        if (tape != null && !(record instanceof SiteRecord.Happened)) {
            note(tape, record);
        }
        if (record instanceof SiteRecord.Pack pack) {
            acceptPack(pack, out);
        } else if (record instanceof SiteRecord.Tick) {
            tick(out);
        } else if (record instanceof SiteRecord.Registered registered) {
            register(registered.machine());
        } else if (record instanceof SiteRecord.Unregistered ended) {
            unregister(ended, out);
        } else if (record instanceof SiteRecord.PolicyActivated activated) {
            policies.activate(Policy.parse(activated.yaml()));
            machines.values().forEach(MachineMonitor::policyChanged);
            touched.add(POLICY_KEY);
        } else if (record instanceof SiteRecord.Happened happened) {
            happened(happened, out);
        } else if (record instanceof SiteRecord.WeatherExpected expected) {
            weather.expect(expected.days(), Math.floorDiv(expected.at().toEpochMilli(), DAY_MILLIS));
            touched.add(SITE_KEY);
        } else if (record instanceof SiteRecord.SiteChanged changed) {
            closedDays.of(changed.site());
            touched.add(SITE_KEY);
        } else if (record instanceof SiteRecord.Presence presence) {
            gateway(presence.gateway()).presence(presence.online());
            touched.add(SITE_KEY);
        }
    }

    /** Packs, minutes and presence are what a tape is without; numbers that are tried go before those that are in force. */
    private static void note(TapeWriter tape, SiteRecord record) {
        if (record instanceof SiteRecord.Registered
                || record instanceof SiteRecord.Unregistered
                || record instanceof SiteRecord.WeatherExpected) {
            tape.record(record);
        }
    }

    private List<WaterSigns> waterSigns() {
        return machines.values().stream().map(MachineMonitor::waterSigns).toList();
    }

    private void put(String id, MachineMonitor machine) {
        machines.put(id, machine);
        byId.put(id, machine);
        machine.tapped(taps.apply(machine));
    }

    private void register(Machine row) {
        MachineMonitor known = machines.get(row.id());
        if (known == null) {
            put(row.id(), MachineMonitor.fresh(row, policies, weather, water));
        } else {
            known.registered(row);
        }
        touched.add(row.id());
    }

    private void unregister(SiteRecord.Unregistered ended, Output out) {
        MachineMonitor machine = machines.remove(ended.machine());
        byId.remove(ended.machine());
        if (machine != null) {
            machine.unregistered(ended.at().toEpochMilli(), out);
        }
        touched.add(ended.machine());
    }

    private void happened(SiteRecord.Happened event, Output out) {
        if (tape != null) {
            machines.values().forEach(MachineMonitor::noteNewest);
            tape.record(event);
        }
        machines.forEach((id, machine) -> {
            if (event.machine().isEmpty() || event.machine().get().equals(id)) {
                machine.happened(event, out);
                touched.add(id);
            }
        });
    }

    private void tick(Output out) {
        ticks++;
        touched.add(SITE_KEY);
        Output ofGateways = tape == null ? out : tape.ofGateways(out);
        gateways.values().forEach(gateway -> gateway.tick(ticks, policies.current(), ofGateways));
        machines.forEach((id, machine) -> {
            GatewayMonitor gateway = gateways.get(machine.machine().gateway());
            if (machine.tick(ticks, gateway == null ? 0 : gateway.speaksFor(ticks, policies.current()), out)) {
                touched.add(id);
            }
        });
        if (ticks % TICKS_AN_HOUR == 0) {
            Neighbours.tell(machines.values(), closedDays);
            machines.values().forEach(machine -> machine.hour(out));
            if (ticks % TICKS_A_DAY == 0) {
                dayOfKind(out);
            }
            touched.addAll(machines.keySet());
        }
    }

    void dayOfKind(Output out) {
        if (tape != null) {
            tape.day();
        }
        Neighbours.tellOfKind(machines.values(), out);
    }

    private GatewayMonitor gateway(String gateway) {
        GatewayMonitor known = gateways.get(gateway);
        if (known == null) {
            known = GatewayMonitor.fresh(site, gateway);
            gateways.put(gateway, known);
        }
        return known;
    }

    private void acceptPack(SiteRecord.Pack pack, Output out) {
        touchSite();
        if (!gateway(pack.gateway()).heard(pack, ticks, tape == null ? out : tape.ofGateways(out))) {
            tally.repeatedPack(pack.readings().size());
            return;
        }
        List<Reading> readings = inOrder(pack.readings());
        String id = "";
        MachineMonitor machine = null;
        for (int i = 0; i < readings.size(); i++) {
            Reading reading = readings.get(i);
            if (!reading.machine().equals(id)) {
                id = reading.machine();
                machine = byId.get(id);
                touch(id, machine);
            }
            tally.count(machine == null ? Admission.UNREGISTERED : machine.accept(reading, ticks, out));
        }
    }

    private void touch(String id, @Nullable MachineMonitor machine) {
        if (machine != null && !machine.isTouched()) {
            machine.touched(true);
            touched.add(id);
        }
    }

    private void touchSite() {
        if (!isSiteTouched) {
            isSiteTouched = true;
            touched.add(SITE_KEY);
        }
    }

    /** A pack that holds minutes is in order of time, however its gateway wrote it: its readings came together. */
    private static List<Reading> inOrder(List<Reading> readings) {
        for (int i = 1; i < readings.size(); i++) {
            if (readings.get(i).timeMillis() < readings.get(i - 1).timeMillis()) {
                List<Reading> sorted = new ArrayList<>(readings);
                sorted.sort(Comparator.comparingLong(Reading::timeMillis));
                return sorted;
            }
        }
        return readings;
    }

    /**
     * Hands over the state of everything that changed since the last call; null bytes mean removed. Keys are
     * {@link #SITE_KEY}, machines' ids, and keys of the monitor's own that have a {@code ~}, which no id has: most of what is known of
     * a machine changes with a cycle only, and stands apart from what changes with each reading.
     */
    public void saveTouched(BiConsumer<String, byte @Nullable []> sink) {
        saveTouched(new StateWriter(), sink);
    }

    /** @param scratch what is written to; one will do for all sites of a thread, and keeps the size of the largest state */
    public void saveTouched(StateWriter scratch, BiConsumer<String, byte @Nullable []> sink) {
        for (String key : touched) {
            MachineMonitor machine = byId.get(key);
            if (machine != null) {
                machine.touched(false);
                sink.accept(key, machine.save(scratch));
                if (machine.hasLearned()) {
                    sink.accept(key + LEARNED, machine.saveLearned(scratch));
                }
            } else if (key.equals(SITE_KEY)) {
                sink.accept(key, saveSite(scratch));
            } else if (key.equals(POLICY_KEY)) {
                sink.accept(key, policies.save(scratch));
            } else {
                sink.accept(key, null);
                sink.accept(key + LEARNED, null);
            }
        }
        touched.clear();
        isSiteTouched = false;
    }

    private byte[] saveSite(StateWriter scratch) {
        scratch.restart();
        StateVersion.SITE.write(scratch);
        tally.save(scratch);
        scratch.whole(ticks);
        weather.save(scratch);
        scratch.whole(gateways.size());
        gateways.values().forEach(gateway -> gateway.save(scratch));
        water.save(scratch);
        closedDays.save(scratch);
        return scratch.toBytes();
    }

    /**
     * Hands over how far the packs of each gateway are stored of which something was heard since the last call, or
     * since {@link #restore}: to be told to the gateway once the state is stored, too.
     */
    public void tellAcks(Consumer<GatewayAck> sink) {
        gateways.values().forEach(gateway -> gateway.tell(sink));
    }

    /** What became of the readings so far. */
    public MonitorCounts counts() {
        return tally.counts();
    }

    public String site() {
        return site;
    }
}
