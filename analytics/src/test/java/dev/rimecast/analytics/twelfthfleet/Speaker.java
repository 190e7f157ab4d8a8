package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;

/** What a gateway sends of a machine: which channels, how often, and with which errors of the sensors. */
final class Speaker {
    final String id;
    final Set<Channel> channels;
    final double period;
    /** Phases are told when they change, too. */
    final boolean edges;

    private final Random random;
    private final double quantum;
    private final double ambientBias;
    private final double waterBias;
    private final double evaporatorBias;
    private final double condenserBias;
    private final double clampGain;
    private double stuckAt = Double.NaN;

    Speaker(String id, Set<Channel> channels, double period, boolean edges, Random random) {
        this.id = id;
        this.channels = EnumSet.copyOf(channels);
        this.period = period;
        this.edges = edges;
        this.random = random;
        double roll = random.nextDouble();
        this.quantum = roll < 0.7 ? 0.1 : roll < 0.9 ? 0.25 : 0.5;
        this.ambientBias = 4 * random.nextDouble() - 2;
        this.waterBias = 2 * random.nextDouble() - 1;
        this.evaporatorBias = 0.4 * random.nextGaussian();
        this.condenserBias = 0.6 * random.nextGaussian();
        this.clampGain = 1 + 0.03 * random.nextGaussian();
    }

    /** A row of what is measured now. */
    Row sample(long millis, long arrives, IceMachine machine, double ambient, double water, Ills ills) {
        List<Reading> readings = new ArrayList<>(8);
        double evaporator = machine.evaporatorProbe + evaporatorBias;
        double condenser = machine.condenserProbe + condenserBias + ills.condenserOffset;
        if (ills.condenserStuck) {
            stuckAt = Double.isNaN(stuckAt) ? condenser : stuckAt;
            condenser = stuckAt;
        } else {
            condenser += 0.15 * random.nextGaussian();
        }
        evaporator += 0.12 * random.nextGaussian();
        if (!ills.evaporatorMissing) {
            number(readings, Channel.EVAPORATOR_TEMPERATURE, millis, ills.swapped ? condenser : evaporator, quantum);
        }
        number(readings, Channel.CONDENSER_TEMPERATURE, millis, ills.swapped ? evaporator : condenser, quantum);
        number(
                readings,
                Channel.AMBIENT_TEMPERATURE,
                millis,
                ambient + ambientBias + 0.1 * random.nextGaussian(),
                quantum);
        number(readings, Channel.WATER_TEMPERATURE, millis, water + waterBias + 0.1 * random.nextGaussian(), quantum);
        number(
                readings,
                Channel.SUPPLY_CURRENT,
                millis,
                Math.max(0, machine.amperes() * clampGain * (1 + 0.01 * random.nextGaussian())),
                0.01);
        if (channels.contains(Channel.PHASE)) {
            readings.add(Reading.phase(id, millis, machine.phase));
        }
        if (channels.contains(Channel.BIN_FULL)) {
            readings.add(Reading.flag(id, Channel.BIN_FULL, millis, machine.binFull()));
        }
        number(readings, Channel.WATER_VOLUME, millis, machine.waterTaken / 1000, 0.0001);
        number(readings, Channel.ICE_MASS, millis, machine.iceMade, 0.01);
        return new Row(arrives, millis, id, readings);
    }

    private void number(List<Reading> readings, Channel channel, long millis, double value, double step) {
        if (channels.contains(channel)) {
            readings.add(Reading.number(id, channel, millis, Math.round(Math.round(value / step) * step * 1e4) / 1e4));
        }
    }

    /** Rows of what the machine has told since; a gateway without those channels says nothing. */
    void events(List<Told> told, long startMillis, long lateMillis, List<Row> into) {
        for (Told one : told) {
            boolean phase = one.channel() == Channel.PHASE;
            if (!channels.contains(one.channel()) || phase && !edges) {
                continue;
            }
            long millis = startMillis + Math.round(one.at() * 10) * 100;
            Reading reading = switch (one.channel().kind()) {
                case PHASE -> Reading.phase(id, millis, Phase.ofOrdinal((int) one.value()));
                case FLAG -> Reading.flag(id, one.channel(), millis, one.value() > 0);
                default -> Reading.number(id, one.channel(), millis, Math.round(one.value() * 10) / 10.0);
            };
            into.add(new Row(Math.max(millis, lateMillis), millis, id, List.of(reading)));
        }
        told.clear();
    }
}
