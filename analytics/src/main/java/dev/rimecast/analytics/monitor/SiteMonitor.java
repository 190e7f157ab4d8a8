package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.BiConsumer;
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

    /** Takes what is decided, in order. */
    public interface Output {
        void cycle(Cycle cycle);

        void finding(Finding finding);
    }

    private final String site;
    private Policy policy;
    private Tally tally = new Tally();
    private final Map<String, PackLedger> ledgers = new TreeMap<>();
    private final Map<String, MachineMonitor> machines = new TreeMap<>();
    private final TreeSet<String> touched = new TreeSet<>();
    private final StateWriter scratch = new StateWriter();

    private SiteMonitor(String site, Policy policy) {
        this.site = site;
        this.policy = policy;
    }

    /** A site of which nothing is known yet. */
    public static SiteMonitor fresh(String site, Policy policy) {
        SiteMonitor monitor = new SiteMonitor(site, policy);
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
        StateReader policyState = new StateReader(required(site, states, POLICY_KEY));
        StateVersion.POLICY.require(policyState);
        SiteMonitor monitor = new SiteMonitor(site, Policy.parse(policyState.text()));
        StateReader in = new StateReader(required(site, states, SITE_KEY));
        StateVersion.SITE.require(in);
        monitor.tally = Tally.restore(in);
        for (int count = in.wholeInt(); count > 0; count--) {
            monitor.ledgers.put(in.text(), PackLedger.restore(in));
        }
        states.forEach((key, bytes) -> {
            if (!key.equals(SITE_KEY) && !key.equals(POLICY_KEY)) {
                monitor.machines.put(key, MachineMonitor.restore(bytes));
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

    /** Takes the next record of the log. */
    public void accept(SiteRecord record, Output out) {
        if (record instanceof SiteRecord.Pack pack) {
            acceptPack(pack);
        } else if (record instanceof SiteRecord.Registered registered) {
            register(registered.machine());
        } else if (record instanceof SiteRecord.Unregistered ended) {
            machines.remove(ended.machine());
            touched.add(ended.machine());
        } else if (record instanceof SiteRecord.PolicyActivated activated) {
            policy = Policy.parse(activated.yaml());
            touched.add(POLICY_KEY);
        }
    }

    private void register(Machine row) {
        MachineMonitor known = machines.get(row.id());
        if (known == null) {
            machines.put(row.id(), MachineMonitor.fresh(row));
        } else {
            known.registered(row);
        }
        touched.add(row.id());
    }

    private void acceptPack(SiteRecord.Pack pack) {
        touched.add(SITE_KEY);
        boolean isNew = pack.number().isEmpty()
                || ledgers.computeIfAbsent(pack.gateway(), g -> new PackLedger())
                        .isNew(pack.number().get());
        if (!isNew) {
            tally.repeatedPack(pack.readings().size());
            return;
        }
        for (Reading reading : pack.readings()) {
            MachineMonitor machine = machines.get(reading.machine());
            if (machine == null) {
                tally.count(Admission.UNREGISTERED);
            } else {
                tally.count(machine.accept(reading));
                touched.add(reading.machine());
            }
        }
    }

    /**
     * Hands over the state of everything that changed since the last call; null bytes mean removed. Keys are
     * {@link #SITE_KEY}, machines' ids, and keys of the monitor's own that begin with {@code ~}, which no id does.
     */
    public void saveTouched(BiConsumer<String, byte @Nullable []> sink) {
        for (String key : touched) {
            sink.accept(key, bytesOf(key));
        }
        touched.clear();
    }

    private byte @Nullable [] bytesOf(String key) {
        if (key.equals(SITE_KEY)) {
            return saveSite();
        }
        if (key.equals(POLICY_KEY)) {
            scratch.restart();
            StateVersion.POLICY.write(scratch);
            return scratch.text(policy.yaml()).toBytes();
        }
        MachineMonitor machine = machines.get(key);
        return machine == null ? null : machine.save(scratch);
    }

    private byte[] saveSite() {
        scratch.restart();
        StateVersion.SITE.write(scratch);
        tally.save(scratch);
        scratch.whole(ledgers.size());
        ledgers.forEach((gateway, ledger) -> {
            scratch.text(gateway);
            ledger.save(scratch);
        });
        return scratch.toBytes();
    }

    /** What became of the readings so far. */
    public MonitorCounts counts() {
        return tally.counts();
    }

    public String site() {
        return site;
    }
}
