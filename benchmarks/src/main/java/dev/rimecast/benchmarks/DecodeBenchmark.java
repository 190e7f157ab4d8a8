package dev.rimecast.benchmarks;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlJsonDecoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import dev.rimecast.telemetry.senml.SenmlPack;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** A pack of eight records, as a gateway sends it: packs per second, beside a bare walk over the same tokens. */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 4, time = 2)
@Measurement(iterations = 5, time = 2)
public class DecodeBenchmark {
    private static final long AT = Instant.parse("2026-05-04T10:00:00Z").toEpochMilli();
    private static final String MACHINE = "harbour-hotel-1";

    private final Instant now = Instant.ofEpochMilli(AT + 800);
    private final byte[] pack = SenmlJsonEncoder.encode(List.of(
            Reading.number(MACHINE, Channel.EVAPORATOR_TEMPERATURE, AT, -7.4),
            Reading.number(MACHINE, Channel.CONDENSER_TEMPERATURE, AT, 41.2),
            Reading.number(MACHINE, Channel.AMBIENT_TEMPERATURE, AT, 24.6),
            Reading.number(MACHINE, Channel.WATER_TEMPERATURE, AT, 14.1),
            Reading.number(MACHINE, Channel.SUPPLY_CURRENT, AT, 3.27),
            Reading.phase(MACHINE, AT, Phase.FREEZE),
            Reading.flag(MACHINE, Channel.BIN_FULL, AT, false),
            Reading.number(MACHINE, Channel.ICE_MASS, AT, 1284.5)));

    @Benchmark
    public SenmlPack senmlJson() {
        return SenmlJsonDecoder.decode(pack, now);
    }

    @Benchmark
    public double bareParse() {
        return BareParse.of(pack);
    }
}
