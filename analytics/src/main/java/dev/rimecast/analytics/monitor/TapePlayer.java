package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/**
 * Decides a site again from its cycles, by the monitor that decides live, and by another policy: where only numbers differ that act
 * on nothing else ({@link OfCycles}), what cycles raise is exactly what it would be from readings. What does not come of cycles is
 * as it was; of it, causes that go by cycles and care stay as they were.
 */
public final class TapePlayer {
    private final String site;
    private final Policy policy;
    private final SiteMonitor.Output out;
    /** What was known where the tape begins, by key; empty where it begins with the site. */
    private final Map<String, byte[]> known = new HashMap<>();

    private final List<String> ids = new ArrayList<>();
    private final Map<String, OfMachine> taps = new HashMap<>();

    /** Null before the first entry. */
    private @Nullable SiteMonitor begun;

    /** @param policy in force from where the tape begins; on what was known there, if it does not begin with the site */
    public TapePlayer(String site, Policy policy, SiteMonitor.Output out) {
        this.site = site;
        this.policy = policy;
        this.out = out;
    }

    private SiteMonitor monitor() {
        SiteMonitor monitor = begun;
        if (monitor == null) {
            monitor = known.isEmpty() ? SiteMonitor.fresh(site, policy) : SiteMonitor.restore(site, known);
            if (!known.isEmpty()) {
                monitor.accept(new SiteRecord.PolicyActivated(Instant.EPOCH, policy.version(), policy.yaml()), out);
                known.clear();
            }
            monitor.tapped(machine -> {
                OfMachine tap = new OfMachine(machine);
                taps.put(machine.machine().id(), tap);
                return tap;
            });
            begun = monitor;
        }
        return monitor;
    }

    /**
     * Takes the next block of a {@link TapeWriter}.
     *
     * @throws IllegalStateException if it is none
     */
    public void accept(byte[] block) {
        StateReader in = new StateReader(block);
        while (!in.atEnd()) {
            int kind = in.u8();
            switch (kind) {
                case TapeWriter.MACHINE -> ids.add(in.text());
                case TapeWriter.RECORD -> monitor().accept(SiteLogCodec.decode(in.block()), out);
                case TapeWriter.DAY -> monitor().dayOfKind(out);
                case TapeWriter.KNOWN -> known.put(in.text(), in.block());
                case TapeWriter.OF_GATEWAY -> out.finding(FindingJson.decode(in.block()));
                default -> ofMachine(kind, in);
            }
        }
    }

    private void ofMachine(int kind, StateReader in) {
        String id = ids.get(in.wholeInt());
        MachineMonitor machine = monitor().machine(id);
        OfMachine tap = taps.get(id);
        if (machine == null || tap == null) {
            throw new IllegalStateException("the tape speaks of machine " + id + ", which it does not have");
        }
        switch (kind) {
            case TapeWriter.CYCLE -> {
                tap.rest = new Place.Rest(in.optionalReal(), in.real());
                RawCycle raw = RawCycle.restore(in);
                machine.play(each -> each.cycle(raw), out);
            }
            case TapeWriter.PASSED, TapeWriter.PASSED_SILENT -> {
                long since = in.whole();
                long millis = in.whole();
                boolean isSilent = kind == TapeWriter.PASSED_SILENT;
                machine.play(each -> each.passed(since, millis, isSilent), out);
            }
            case TapeWriter.CLEANED -> {
                long millis = in.whole();
                machine.play(each -> each.cleaned(millis), out);
            }
            case TapeWriter.DRAIN -> {
                long millis = in.whole();
                double seconds = in.real();
                machine.play(each -> each.drainLevel(millis, seconds), out);
            }
            case TapeWriter.ROOM -> {
                double own = in.real();
                double others = in.real();
                machine.play(each -> each.room(own, others), out);
            }
            case TapeWriter.NEWEST -> machine.passedTo(in.whole());
            case TapeWriter.HOUR -> {
                machine.passedTo(in.whole());
                machine.play(each -> each.hour(out), out);
            }
            case TapeWriter.REPORT -> {
                boolean isWithin = in.flag();
                Condition condition = Condition.values()[in.u8()];
                TapedReport said = TapedReport.read(in);
                tap.say(isWithin, each -> each.context().report(condition, said.millis(), said.assessment()));
            }
            case TapeWriter.OVER -> {
                boolean isWithin = in.flag();
                Condition condition = Condition.values()[in.u8()];
                long millis = in.whole();
                String summary = in.text();
                tap.say(isWithin, each -> each.context().clear(condition, millis, summary));
            }
            default -> throw new IllegalStateException("a tape has no entry " + kind);
        }
    }

    /** Lets only what is on the tape, and what comes of cycles, into the book. */
    private final class OfMachine implements CycleTap {
        private final List<Noted> waiting = new ArrayList<>();
        private Place.Rest rest = new Place.Rest(OptionalDouble.empty(), 0);
        private final MachineMonitor machine;
        private boolean isFromTape;

        OfMachine(MachineMonitor machine) {
            this.machine = machine;
        }

        void say(boolean isWithin, Noted noted) {
            if (isWithin) {
                waiting.add(noted);
            } else {
                isFromTape = true;
                machine.play(noted, out);
                isFromTape = false;
            }
        }

        private void sayWaiting() {
            if (!waiting.isEmpty()) {
                isFromTape = true;
                waiting.forEach(noted -> noted.at(machine));
                isFromTape = false;
                waiting.clear();
            }
        }

        @Override
        public Place.Rest began(Place.Rest own) {
            return rest;
        }

        @Override
        public void cycle(RawCycle raw, Place.Rest before) {
            sayWaiting();
        }

        @Override
        public boolean hourBegan() {
            return false;
        }

        @Override
        public void hour(long newestMillis) {
            sayWaiting();
        }

        @Override
        public boolean isTaken(Condition condition, long millis, Assessment assessment) {
            return isFromTape || OfCycles.isOfCycles(condition, assessment);
        }

        @Override
        public boolean isOver(Condition condition, long millis, String summary) {
            return isFromTape || OfCycles.isOfCycles(condition);
        }
    }
}
