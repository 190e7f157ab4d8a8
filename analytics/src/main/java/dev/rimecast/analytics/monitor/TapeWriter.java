package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.ack.PackGap;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.proof.Proof;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Notes what a site's readings come to: its cycles, what limits and delays have found, and what people reported, in order.
 * {@link TapePlayer} decides it again, without the readings. Exact: every number keeps its bits.
 */
public final class TapeWriter {
    static final int MACHINE = 0;
    static final int RECORD = 1;
    static final int CYCLE = 2;
    static final int PASSED = 3;
    static final int DRAIN = 4;
    static final int ROOM = 5;
    static final int NEWEST = 6;
    static final int HOUR = 7;
    static final int DAY = 8;
    static final int REPORT = 9;
    static final int OVER = 10;
    static final int OF_GATEWAY = 11;
    /** Before all others, where it does not begin with the site. */
    static final int KNOWN = 12;

    /** As {@link #PASSED}, while the compressor does not seem to run. */
    static final int PASSED_SILENT = 13;

    static final int CLEANED = 14;

    private static final int BLOCK = 60_000;

    private final Consumer<byte[]> sink;
    private final int block;
    private final StateWriter out = new StateWriter();
    private final Map<String, Integer> numbers = new HashMap<>();

    /** @param sink takes blocks of whole entries */
    public TapeWriter(Consumer<byte[]> sink) {
        this(sink, BLOCK);
    }

    /** @param block bytes after which one is handed over: so many are in memory */
    public TapeWriter(Consumer<byte[]> sink, int block) {
        this.sink = sink;
        this.block = block;
    }

    private StateWriter entry(int kind) {
        if (out.size() > block) {
            flush();
        }
        return out.u8(kind);
    }

    /** Hands over what was noted last. */
    public void flush() {
        if (out.size() > 0) {
            sink.accept(out.toBytes());
            out.restart();
        }
    }

    CycleTap of(MachineMonitor machine) {
        return new OfMachine(machine, number(machine.machine().id()));
    }

    private int number(String machine) {
        return numbers.computeIfAbsent(machine, id -> {
            entry(MACHINE).text(id);
            return numbers.size();
        });
    }

    void record(SiteRecord record) {
        entry(RECORD).block(SiteLogCodec.encode(record));
    }

    /** What was known before the first entry; null where something is gone. */
    void known(String key, byte @Nullable [] state) {
        if (state != null) {
            entry(KNOWN).text(key).block(state);
        }
    }

    void day() {
        entry(DAY);
    }

    /** What is found of gateways does not come of cycles. */
    SiteMonitor.Output ofGateways(SiteMonitor.Output output) {
        return new SiteMonitor.Output() {
            @Override
            public void cycle(Cycle cycle) {
                output.cycle(cycle);
            }

            @Override
            public void finding(Finding finding) {
                entry(OF_GATEWAY).block(FindingJson.encode(finding));
                output.finding(finding);
            }

            @Override
            public void proof(Proof proof) {
                output.proof(proof);
            }

            @Override
            public void gap(PackGap gap) {
                output.gap(gap);
            }
        };
    }

    private final class OfMachine implements CycleTap {
        private final MachineMonitor machine;
        private final int number;
        /** What each condition was reported as last, without words: the same again changes nothing. */
        private final Map<Condition, Assessment> last = new EnumMap<>(Condition.class);

        private boolean isWithin;

        OfMachine(MachineMonitor machine, int number) {
            this.machine = machine;
            this.number = number;
        }

        private RuleContext context() {
            return machine.context();
        }

        @Override
        public Place.Rest began(Place.Rest own) {
            isWithin = true;
            return own;
        }

        @Override
        public void cycle(RawCycle raw, Place.Rest rest) {
            isWithin = false;
            raw.save(entry(CYCLE).whole(number).optionalReal(rest.celsius()).real(rest.hours()));
        }

        @Override
        public void passed(long sinceMillis, long millis, boolean isSilent, double limitSeconds) {
            if (millis - sinceMillis > limitSeconds * 1000) {
                entry(isSilent ? PASSED_SILENT : PASSED)
                        .whole(number)
                        .whole(sinceMillis)
                        .whole(millis);
            }
        }

        @Override
        public void cleaned(long millis) {
            entry(CLEANED).whole(number).whole(millis);
        }

        @Override
        public void drainLevel(long millis, double seconds) {
            entry(DRAIN).whole(number).whole(millis).real(seconds);
        }

        @Override
        public void room(double own, double others) {
            entry(ROOM).whole(number).real(own).real(others);
        }

        @Override
        public void newest(long millis) {
            entry(NEWEST).whole(number).whole(millis);
        }

        @Override
        public boolean hourBegan() {
            isWithin = true;
            return true;
        }

        @Override
        public void hour(long newestMillis) {
            isWithin = false;
            entry(HOUR).whole(number).whole(newestMillis);
        }

        @Override
        public boolean isTaken(Condition condition, long millis, Assessment assessment) {
            if (!OfCycles.isOfCycles(condition, assessment)) {
                Assessment bare = new Assessment(
                        assessment.stage(),
                        assessment.priority(),
                        assessment.causes(),
                        Optional.empty(),
                        assessment.limit(),
                        "",
                        assessment.by());
                if (!bare.equals(last.put(condition, bare)) || !context().isOpen(condition)) {
                    TapedReport.write(
                            entry(REPORT).whole(number).flag(isWithin).u8(condition.ordinal()), millis, assessment);
                }
            } else {
                last.remove(condition);
            }
            return true;
        }

        @Override
        public boolean isOver(Condition condition, long millis, String summary) {
            last.remove(condition);
            if (!OfCycles.isOfCycles(condition) && context().isOpen(condition)) {
                entry(OVER)
                        .whole(number)
                        .flag(isWithin)
                        .u8(condition.ordinal())
                        .whole(millis)
                        .text(summary);
            }
            return true;
        }
    }
}
