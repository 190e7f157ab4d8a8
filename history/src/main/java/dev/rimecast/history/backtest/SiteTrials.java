package dev.rimecast.history.backtest;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.state.StateCodec;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.proof.Proof;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** One site's log through a monitor for each trial, side by side. */
final class SiteTrials {
    private final String site;
    private final List<LogRun.Trial> trials;
    private final List<SiteMonitor> monitors = new ArrayList<>();
    private final List<Kept> kept = new ArrayList<>();
    private final Map<String, Machine> register = new LinkedHashMap<>();
    private final Map<String, Instant> since = new LinkedHashMap<>();
    private final Map<String, Decided.Span> watched = new LinkedHashMap<>();
    private final List<SiteRecord.Happened> events = new ArrayList<>();
    /** Alerts that were over before a snapshot, and when: they are in no finding that is kept. */
    private final Map<UUID, Instant> over = new LinkedHashMap<>();

    private @Nullable Instant now;

    /** What one monitor decided. */
    private static final class Kept implements SiteMonitor.Output {
        private final List<Finding> findings = new ArrayList<>();
        /** As they were saved last, where what is decided is kept. */
        private final TreeMap<String, byte[]> states = new TreeMap<>();

        private long cycles;

        void save(SiteMonitor monitor) {
            monitor.saveTouched((key, bytes) -> {
                if (bytes == null) {
                    states.remove(key);
                } else {
                    states.put(key, bytes);
                }
            });
        }

        @Override
        public void cycle(Cycle cycle) {
            cycles++;
        }

        @Override
        public void finding(Finding finding) {
            findings.add(finding);
        }

        @Override
        public void proof(Proof proof) {
            // Of work that was done, whatever the thresholds.
        }
    }

    SiteTrials(String site, List<LogRun.Trial> trials) {
        this.site = site;
        this.trials = trials;
        for (LogRun.Trial trial : trials) {
            boolean isAtOnce = trial.since().equals(Instant.MIN);
            Policy first = isAtOnce ? trial.policy().orElse(Policy.standard()) : Policy.standard();
            SiteMonitor monitor = SiteMonitor.fresh(site, first);
            monitors.add(monitor);
            kept.add(new Kept());
            if (isAtOnce) {
                trial.taped().ifPresent(taped -> taped.accept(site, monitor));
            }
        }
    }

    private SiteTrials(String site, List<LogRun.Trial> trials, DataInputStream in) throws IOException {
        this.site = site;
        this.trials = trials;
        if (in.readBoolean()) {
            now = StateCodec.instant(in);
        }
        for (int count = in.readInt(); count > 0; count--) {
            if (SiteLogCodec.decode(StateCodec.bytes(in)) instanceof SiteRecord.Registered registered) {
                register.put(registered.machine().id(), registered.machine());
            }
        }
        for (int count = in.readInt(); count > 0; count--) {
            since.put(StateCodec.text(in), StateCodec.instant(in));
        }
        for (int count = in.readInt(); count > 0; count--) {
            watched.put(StateCodec.text(in), new Decided.Span(StateCodec.instant(in), StateCodec.instant(in)));
        }
        for (int count = in.readInt(); count > 0; count--) {
            if (SiteLogCodec.decode(StateCodec.bytes(in)) instanceof SiteRecord.Happened event) {
                events.add(event);
            }
        }
        for (int count = in.readInt(); count > 0; count--) {
            over.put(new UUID(in.readLong(), in.readLong()), StateCodec.instant(in));
        }
        for (int count = in.readInt(); count > 0; count--) {
            Kept of = new Kept();
            of.states.putAll(StateCodec.states(in));
            of.cycles = in.readLong();
            for (int findings = in.readInt(); findings > 0; findings--) {
                of.findings.add(FindingJson.decode(StateCodec.bytes(in)));
            }
            kept.add(of);
            monitors.add(SiteMonitor.restore(site, of.states));
        }
        if (kept.size() != trials.size()) {
            throw new IOException("of other trials");
        }
    }

    /** Goes on where {@link #write} left off. */
    static SiteTrials read(DataInputStream in, List<LogRun.Trial> trials) throws IOException {
        return new SiteTrials(StateCodec.text(in), trials, in);
    }

    void write(DataOutputStream out) throws IOException {
        StateCodec.text(out, site);
        out.writeBoolean(now != null);
        if (now != null) {
            StateCodec.instant(out, now);
        }
        out.writeInt(register.size());
        for (Machine machine : register.values()) {
            StateCodec.bytes(out, SiteLogCodec.encode(new SiteRecord.Registered(Instant.EPOCH, machine)));
        }
        out.writeInt(since.size());
        for (Map.Entry<String, Instant> entry : since.entrySet()) {
            StateCodec.text(out, entry.getKey());
            StateCodec.instant(out, entry.getValue());
        }
        out.writeInt(watched.size());
        for (Map.Entry<String, Decided.Span> entry : watched.entrySet()) {
            StateCodec.text(out, entry.getKey());
            StateCodec.instant(out, entry.getValue().from());
            StateCodec.instant(out, entry.getValue().to());
        }
        out.writeInt(events.size());
        for (SiteRecord.Happened event : events) {
            StateCodec.bytes(out, SiteLogCodec.encode(event));
        }
        out.writeInt(over.size());
        for (Map.Entry<UUID, Instant> entry : over.entrySet()) {
            out.writeLong(entry.getKey().getMostSignificantBits());
            out.writeLong(entry.getKey().getLeastSignificantBits());
            StateCodec.instant(out, entry.getValue());
        }
        out.writeInt(kept.size());
        for (int i = 0; i < kept.size(); i++) {
            Kept of = kept.get(i);
            of.save(monitors.get(i));
            StateCodec.states(out, of.states);
            out.writeLong(of.cycles);
            out.writeInt(of.findings.size());
            for (Finding finding : of.findings) {
                StateCodec.bytes(out, FindingJson.encode(finding));
            }
        }
    }

    String site() {
        return site;
    }

    /** The newest minute; empty before the first. */
    Optional<Instant> now() {
        return Optional.ofNullable(now);
    }

    /** What is no longer of use to whoever begins here: events, and revisions of alerts that are over. One trial only. */
    void forget() {
        events.clear();
        List<Finding> findings = kept.get(0).findings;
        Map<UUID, Instant> ended = new HashMap<>();
        findings.stream()
                .filter(finding -> finding.step() == Finding.Step.CLEARED)
                .forEach(finding -> ended.put(finding.id(), finding.at()));
        findings.removeIf(finding -> ended.containsKey(finding.id()));
        over.putAll(ended);
        Instant seen = now;
        if (seen != null) {
            over.values().removeIf(at -> at.isBefore(seen.minus(Live.REMEMBERED)));
        }
    }

    /** What people reported before it began here. */
    void before(List<SiteRecord.Happened> earlier) {
        events.addAll(0, earlier);
    }

    Set<UUID> over() {
        return Set.copyOf(over.keySet());
    }

    /** Revisions of the alerts that stand, after {@link #forget}, and the state of the monitor. */
    List<Finding> standing() {
        return List.copyOf(kept.get(0).findings);
    }

    Map<String, byte[]> states() {
        return kept.get(0).states;
    }

    void accept(SiteRecord record) {
        if (record instanceof SiteRecord.Tick tick) {
            begin(tick.at());
        }
        look(record);
        for (int i = 0; i < monitors.size(); i++) {
            if (record instanceof SiteRecord.PolicyActivated activated
                    && (isOfTrial(trials.get(i)) || !PartitionRun.isPolicy(activated))) {
                continue;
            }
            try {
                monitors.get(i).accept(record, kept.get(i));
            } catch (RuntimeException e) {
                throw new IllegalStateException(
                        "site " + site + " could not be decided with "
                                + trials.get(i).name() + ": " + e,
                        e);
            }
        }
    }

    /** Whether the trial's own policy decides. */
    private boolean isOfTrial(LogRun.Trial trial) {
        Instant last = now;
        return trial.policy().isPresent()
                && (trial.since().equals(Instant.MIN) || last != null && !last.isBefore(trial.since()));
    }

    /** Policies that take effect at this minute do so before it. */
    private void begin(Instant minute) {
        for (int i = 0; i < monitors.size(); i++) {
            LogRun.Trial trial = trials.get(i);
            boolean hasBegun = trial.since().equals(Instant.MIN) || now != null && !now.isBefore(trial.since());
            if (!hasBegun && !minute.isBefore(trial.since())) {
                SiteMonitor monitor = monitors.get(i);
                Kept output = kept.get(i);
                trial.policy()
                        .ifPresent(policy -> monitor.accept(
                                new SiteRecord.PolicyActivated(minute, policy.version(), policy.yaml()), output));
                trial.taped().ifPresent(taped -> taped.accept(site, monitor));
            }
        }
    }

    /** How long each machine was watched: from its first minute in the register to the last minute that was seen. */
    private void look(SiteRecord record) {
        if (record instanceof SiteRecord.Tick tick) {
            now = tick.at();
        } else if (record instanceof SiteRecord.Registered registered) {
            register.put(registered.machine().id(), registered.machine());
            since.putIfAbsent(registered.machine().id(), now == null ? registered.at() : now);
        } else if (record instanceof SiteRecord.Unregistered ended) {
            endWatch(ended.machine());
        } else if (record instanceof SiteRecord.Happened event) {
            events.add(event);
        }
    }

    private void endWatch(String machine) {
        Instant from = since.remove(machine);
        Instant to = now;
        if (from != null && to != null && from.isBefore(to)) {
            watched.merge(machine, new Decided.Span(from, to), (a, b) -> new Decided.Span(a.from(), b.to()));
        }
    }

    SiteDecided decided() {
        List.copyOf(since.keySet()).forEach(this::endWatch);
        return new SiteDecided(
                site,
                List.copyOf(register.values()),
                watched,
                events,
                kept.stream().map(each -> List.copyOf(each.findings)).toList(),
                kept.get(0).cycles);
    }
}
