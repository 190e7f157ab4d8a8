package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** Turns one machine into what its gateway sends; nothing is kept over a gap of the link. */
final class Gateway implements Told {
    private static final double LOST_SHARE = .0015;
    private static final int METER_EVERY_SAMPLES = 10;
    private static final Map<Phase, String> STATUS = new EnumMap<>(Map.of(
            Phase.WAIT, "START_DELAY",
            Phase.FILL, "FILLING",
            Phase.FREEZE, "FREEZE",
            Phase.HARVEST, "HARVEST",
            Phase.IDLE, "BIN_FULL",
            Phase.CLEAN, "CLEAN",
            Phase.STOPPED, "FAULT_STOP",
            Phase.REDUCED, "SAFE_MODE",
            Phase.OFF, "OFF"));

    /** The link is down and what was said is lost; epoch milliseconds. */
    record Gap(long fromMillis, long toMillis) {
        boolean covers(long millis) {
            return millis >= fromMillis && millis < toMillis;
        }
    }

    private final String machine;
    private final Set<Channel> channels;
    private final List<Gap> gaps;
    private final int everySeconds;
    private final int offsetSeconds;
    private final int offsetMillis;
    private final boolean diesWithMachine;
    private final Chance chance;
    private List<Row> rows = new ArrayList<>();
    private Optional<Phase> statusSaid = Optional.empty();

    Gateway(
            String machine,
            Set<Channel> channels,
            List<Gap> gaps,
            int everySeconds,
            boolean diesWithMachine,
            Chance chance) {
        this.machine = machine;
        this.channels = channels;
        this.gaps = gaps;
        this.everySeconds = everySeconds;
        this.diesWithMachine = diesWithMachine;
        this.chance = chance;
        this.offsetSeconds = chance.below(everySeconds);
        this.offsetMillis = chance.below(1000);
    }

    boolean isDue(long t) {
        return (t + offsetSeconds) % everySeconds == 0;
    }

    /** A sample of all that is measured. */
    void sample(long t, Plant plant, Probes probes, Phase phase) {
        if ((phase == Phase.OFF && diesWithMachine) || chance.hit(LOST_SHARE)) {
            return;
        }
        long millis = t * 1000 + offsetMillis;
        List<Reading> readings = new ArrayList<>(10);
        number(readings, Channel.EVAPORATOR_TEMPERATURE, millis, probes.readEvaporator(chance));
        number(readings, Channel.CONDENSER_TEMPERATURE, millis, probes.readCondenser(chance));
        number(readings, Channel.AMBIENT_TEMPERATURE, millis, OptionalDouble.of(probes.ambient.read(chance)));
        number(readings, Channel.WATER_TEMPERATURE, millis, OptionalDouble.of(probes.water.read(chance)));
        double amperes = plant.amperes(t) * (1 + chance.gauss(.012));
        number(
                readings,
                Channel.SUPPLY_CURRENT,
                millis,
                OptionalDouble.of(Math.round(Math.max(0, amperes) * 100) / 100.0));
        if (channels.contains(Channel.PHASE)) {
            readings.add(Reading.phase(machine, millis, phase));
        }
        if (channels.contains(Channel.CONTROLLER_STATUS) && !statusSaid.equals(Optional.of(phase))) {
            String status = STATUS.getOrDefault(phase, "");
            readings.add(Reading.text(machine, Channel.CONTROLLER_STATUS, millis, status));
            statusSaid = Optional.of(phase);
        }
        if (channels.contains(Channel.BIN_FULL)) {
            readings.add(Reading.flag(machine, Channel.BIN_FULL, millis, plant.bin.isFull()));
        }
        if (t / everySeconds % METER_EVERY_SAMPLES == 0) {
            double cubicMetres = Math.round(plant.water.takenKg) / 1000.0;
            number(readings, Channel.WATER_VOLUME, millis, OptionalDouble.of(cubicMetres));
        }
        add(millis, readings);
    }

    private void number(List<Reading> readings, Channel channel, long millis, OptionalDouble value) {
        if (channels.contains(channel) && value.isPresent()) {
            readings.add(Reading.number(machine, channel, millis, value.getAsDouble()));
        }
    }

    private void add(long millis, List<Reading> readings) {
        if (!readings.isEmpty() && gaps.stream().noneMatch(gap -> gap.covers(millis))) {
            rows.add(new Row(millis, millis, machine, readings));
        }
    }

    @Override
    public void number(Channel channel, long millis, double value) {
        if (channels.contains(channel)) {
            add(millis, List.of(Reading.number(machine, channel, millis, value)));
        }
    }

    @Override
    public void flag(Channel channel, long millis, boolean value) {
        if (channels.contains(channel)) {
            add(millis, List.of(Reading.flag(machine, channel, millis, value)));
        }
    }

    /** What was said before a time; what is said later stays. */
    List<Row> take(long beforeMillis) {
        List<Row> taken = new ArrayList<>(rows.size());
        List<Row> kept = new ArrayList<>();
        for (Row row : rows) {
            (row.timeMillis() < beforeMillis ? taken : kept).add(row);
        }
        rows = kept;
        return taken;
    }
}
