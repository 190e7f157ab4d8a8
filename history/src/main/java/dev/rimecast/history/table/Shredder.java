package dev.rimecast.history.table;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.ProofJson;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Turns records into rows. Each record of a site's log becomes one row of {@link Table#PACKS} or {@link Table#RECORDS}, and
 * its readings rows of {@link Table#READINGS}.
 */
public final class Shredder {
    private final Function<Table, RowSink> sinks;
    private long unreadable;

    /** @param sinks where the rows of each table go */
    public Shredder(Function<Table, RowSink> sinks) {
        this.sinks = sinks;
    }

    /** Topics whose records can be taken. */
    public static List<String> topics() {
        return List.of(Topics.SITES, Topics.CYCLES, Topics.FINDINGS, Topics.PROOFS);
    }

    /** Takes the next record. One that nobody can read is counted and left out: analytics keeps it as a dead letter. */
    public void take(Taken record) {
        try {
            switch (record.topic()) {
                case Topics.SITES -> site(record, SiteLogCodec.decode(record.value()));
                case Topics.CYCLES -> cycle(record, CycleJson.decode(record.value()));
                case Topics.FINDINGS -> finding(record, FindingJson.decode(record.value()));
                case Topics.PROOFS -> proof(record, ProofJson.decode(record.value()));
                default -> throw new IllegalStateException("topic " + record.topic() + " has no table");
            }
        } catch (IllegalArgumentException e) {
            unreadable++;
        }
    }

    /** Records that could not be read. */
    public long unreadable() {
        return unreadable;
    }

    private RowSink to(Table table) {
        return sinks.apply(table);
    }

    private void site(Taken taken, SiteRecord record) {
        if (record instanceof SiteRecord.Pack pack) {
            log(taken, Table.PACKS, "pack").end();
            readings(taken, pack);
        } else if (record instanceof SiteRecord.Presence) {
            log(taken, Table.PACKS, "presence").end();
        } else if (record instanceof SiteRecord.Tick) {
            log(taken, Table.PACKS, "tick").end();
        } else if (record instanceof SiteRecord.Happened event) {
            log(taken, Table.RECORDS, "event")
                    .time(event.at().toEpochMilli())
                    .textOrNone(event.machine().orElse(""))
                    .text(event.kind().code())
                    .textOrNone(event.detail())
                    .textOrNone(event.by())
                    .textOrNone(event.job())
                    .end();
        } else {
            RowSink row = log(taken, Table.RECORDS, kind(record));
            for (int empty = 0; empty < 6; empty++) {
                row.none();
            }
            row.end();
        }
    }

    private static String kind(SiteRecord record) {
        if (record instanceof SiteRecord.PolicyActivated) {
            return "policy";
        }
        return record instanceof SiteRecord.WeatherExpected ? "weather" : "register";
    }

    private RowSink log(Taken taken, Table table, String kind) {
        return to(table)
                .text(taken.log())
                .count(taken.partition())
                .count(taken.offset())
                .time(taken.arrivedMillis())
                .textOrNone(taken.key())
                .text(kind)
                .bytes(taken.value());
    }

    /** A row for each machine and time of the pack. Of two readings of one channel at one time the first stands. */
    private void readings(Taken taken, SiteRecord.Pack pack) {
        List<Reading> left = pack.readings();
        @Nullable Reading[] row = new Reading[Channel.count()];
        boolean[] done = new boolean[left.size()];
        for (int first = 0; first < left.size(); first++) {
            if (done[first]) {
                continue;
            }
            String machine = left.get(first).machine();
            long time = left.get(first).timeMillis();
            java.util.Arrays.fill(row, null);
            for (int i = first; i < left.size(); i++) {
                Reading reading = left.get(i);
                if (!done[i]
                        && reading.timeMillis() == time
                        && reading.machine().equals(machine)) {
                    done[i] = true;
                    int channel = reading.channel().ordinal();
                    row[channel] = row[channel] == null ? reading : row[channel];
                }
            }
            RowSink sink = to(Table.READINGS)
                    .time(time)
                    .text(machine)
                    .textOrNone(taken.key())
                    .text(pack.gateway());
            for (@Nullable Reading cell : row) {
                cell(sink, cell);
            }
            sink.time(taken.arrivedMillis()).count(taken.offset()).end();
        }
    }

    private static void cell(RowSink sink, @Nullable Reading reading) {
        if (reading == null) {
            sink.none();
            return;
        }
        switch (reading.channel().kind()) {
            case NUMBER, DURATION, COUNTER -> sink.number(reading.value());
            case FLAG -> sink.flag(reading.isSet());
            case PHASE -> sink.text(reading.phase().code());
            case TEXT -> sink.text(reading.text());
        }
    }

    private void cycle(Taken taken, Cycle cycle) {
        RowSink row = to(Table.CYCLES)
                .time(cycle.freezeStart().toEpochMilli())
                .time(cycle.end().toEpochMilli())
                .text(cycle.machine())
                .textOrNone(taken.key());
        for (OptionalDouble value : List.of(
                cycle.pullDownSeconds(),
                cycle.freezeSeconds(),
                cycle.harvestSeconds(),
                cycle.condensingPeakCelsius(),
                cycle.condensingMeanCelsius(),
                cycle.splitKelvin(),
                cycle.evaporatorEndCelsius())) {
            number(row, value);
        }
        number(row, cycle.ambientCelsius()).textOrNone(cycle.ambientSource());
        number(row, cycle.waterCelsius()).textOrNone(cycle.waterSource());
        if (cycle.drainRuns().isPresent()) {
            row.count(cycle.drainRuns().getAsInt());
        } else {
            row.none();
        }
        number(row, cycle.drainLevelMaxSeconds());
        number(row, cycle.drainRunMaxSeconds()).flag(cycle.complete());
        for (Feature feature : Feature.values()) {
            Optional<Cycle.Residual> residual = cycle.residuals().stream()
                    .filter(each -> each.feature() == feature)
                    .findFirst();
            number(row, residual.map(Cycle.Residual::measured));
            number(row, residual.map(Cycle.Residual::expected));
            number(row, residual.map(Cycle.Residual::sigma));
        }
        end(row, taken, cycle.detectorVersion(), cycle.policyVersion());
    }

    private void finding(Taken taken, Finding finding) {
        RowSink row = to(Table.FINDINGS)
                .text(finding.id().toString())
                .count(finding.revision())
                .text(finding.step().name().toLowerCase(Locale.ROOT))
                .text(finding.site())
                .textOrNone(finding.machine().orElse(""))
                .textOrNone(finding.gateway().orElse(""))
                .text(finding.condition().code())
                .text(finding.stage().code())
                .text(finding.priority().code())
                .time(finding.at().toEpochMilli())
                .time(finding.raisedAt().toEpochMilli());
        Optional<Finding.ProbableCause> cause = finding.probableCause();
        row.textOrNone(cause.map(c -> c.cause().code()).orElse(""));
        number(row, cause.map(Finding.ProbableCause::probability))
                .textOrNone(finding.causes().stream()
                        .skip(1)
                        .map(other ->
                                other.cause().code() + ':' + String.format(Locale.ROOT, "%.3f", other.probability()))
                        .collect(Collectors.joining(";")))
                .textOrNone(cause.map(c -> c.cause().origin().code()).orElse(""));
        time(row, finding.limit().map(Finding.LimitExpected::at));
        time(row, finding.limit().map(Finding.LimitExpected::early));
        time(row, finding.limit().map(Finding.LimitExpected::late))
                .textOrNone(finding.measure().map(Finding.Measure::quantity).orElse(""))
                .textOrNone(finding.measure().map(Finding.Measure::unit).orElse(""));
        number(row, finding.measure().map(Finding.Measure::value));
        number(row, finding.measure().map(Finding.Measure::expected).orElse(OptionalDouble.empty()));
        number(row, finding.measure().map(Finding.Measure::limit).orElse(OptionalDouble.empty()))
                .textOrNone(finding.summary());
        end(row, taken, finding.detectorVersion(), finding.policyVersion());
    }

    private void proof(Taken taken, Proof proof) {
        RowSink row = to(Table.PROOFS)
                .text(proof.id().toString())
                .count(proof.revision())
                .text(proof.site())
                .text(proof.machine())
                .time(proof.workedAt().toEpochMilli())
                .time(proof.at().toEpochMilli())
                .textOrNone(proof.cause().map(c -> c.code()).orElse(""))
                .text(proof.verdict().code());
        number(row, proof.probability())
                .count(proof.cycles())
                .flag(proof.isLast())
                .textOrNone(proof.summary());
        end(row, taken, proof.detectorVersion(), proof.policyVersion());
    }

    private static void end(RowSink row, Taken taken, String detector, String policy) {
        row.textOrNone(detector)
                .textOrNone(policy)
                .time(taken.arrivedMillis())
                .count(taken.offset())
                .end();
    }

    private static RowSink number(RowSink row, OptionalDouble value) {
        return value.isPresent() ? row.number(value.getAsDouble()) : row.none();
    }

    private static RowSink number(RowSink row, Optional<Double> value) {
        return value.isPresent() ? row.number(value.get()) : row.none();
    }

    private static RowSink time(RowSink row, Optional<Instant> value) {
        return value.isPresent() ? row.time(value.get().toEpochMilli()) : row.none();
    }
}
