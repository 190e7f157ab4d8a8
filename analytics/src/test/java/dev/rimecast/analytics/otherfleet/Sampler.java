package dev.rimecast.analytics.otherfleet;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;

/** Turns a machine into what its gateway sends: samples at an uneven pace, edges and durations at their own time. */
final class Sampler implements Happenings {
    private static final int ONE_IN_DUPLICATED = 2500;
    private static final int ONE_IN_LATE = 2500;
    private static final int ONE_IN_VERY_LATE = 20_000;
    private static final int ONE_IN_MISSING = 400;
    private static final int LATEST_MILLIS = 50_000;
    private static final double VOLTS_TIMES_POWER_FACTOR = 230 * 0.85;

    private final String id;
    private final Set<Channel> channels;
    private final long startMillis;
    private final int everySeconds;
    private final SplittableRandom random;
    private double nextSample;
    private List<Row> rows = new ArrayList<>();
    private double silentUntil;

    Sampler(String id, Set<Channel> channels, long startMillis, int everySeconds, SplittableRandom random) {
        this.id = id;
        this.channels = channels;
        this.startMillis = startMillis;
        this.everySeconds = everySeconds;
        this.random = random;
        this.nextSample = random.nextInt(everySeconds);
    }

    /** Nothing is kept until then. */
    void silence(double untilSeconds) {
        silentUntil = Math.max(silentUntil, untilSeconds);
    }

    void sample(double now, IceMachine machine) {
        if (now < nextSample) {
            return;
        }
        nextSample += everySeconds;
        if (now < silentUntil || random.nextInt(ONE_IN_MISSING) == 0) {
            return;
        }
        long millis = startMillis + (long) (1000 * now) + random.nextInt(800);
        Sensors sensors = machine.sensors;
        List<Reading> readings = new ArrayList<>(channels.size());
        number(readings, Channel.EVAPORATOR_TEMPERATURE, millis, sensors.readEvaporator(random));
        number(readings, Channel.CONDENSER_TEMPERATURE, millis, sensors.readCondenser(random));
        number(readings, Channel.AMBIENT_TEMPERATURE, millis, sensors.readAmbient(random));
        number(readings, Channel.WATER_TEMPERATURE, millis, sensors.readWater(random));
        Phase phase = machine.controller.phase();
        double watt = phase == Phase.OFF ? 0 : machine.plant.watt;
        number(readings, Channel.SUPPLY_CURRENT, millis, Math.round(20 * watt / VOLTS_TIMES_POWER_FACTOR) / 20.0);
        if (channels.contains(Channel.PHASE)) {
            readings.add(Reading.phase(id, millis, phase));
        }
        if (channels.contains(Channel.BIN_FULL) && phase != Phase.OFF) {
            readings.add(Reading.flag(id, Channel.BIN_FULL, millis, machine.bin.isFull()));
        }
        number(readings, Channel.WATER_VOLUME, millis, Math.round(machine.plant.sump.takenKg) / 1000.0);
        add(millis, readings);
    }

    private void number(List<Reading> readings, Channel channel, long millis, double value) {
        if (channels.contains(channel)) {
            readings.add(Reading.number(id, channel, millis, value));
        }
    }

    private void add(long millis, List<Reading> readings) {
        long arrives = millis + delayMillis();
        Row row = new Row(arrives, millis, id, readings);
        rows.add(row);
        if (random.nextInt(ONE_IN_DUPLICATED) == 0) {
            rows.add(new Row(arrives + random.nextInt(LATEST_MILLIS), millis, id, readings));
        }
    }

    /** Most come at once, a few within the minute in which order is still mended, very few long after it. */
    private int delayMillis() {
        if (random.nextInt(ONE_IN_VERY_LATE) == 0) {
            return 120_000 + random.nextInt(1_200_000);
        }
        return random.nextInt(ONE_IN_LATE) == 0 ? random.nextInt(LATEST_MILLIS) : 0;
    }

    @Override
    public void number(Channel channel, double atSeconds, double value) {
        if (channels.contains(channel) && atSeconds >= silentUntil) {
            long millis = startMillis + (long) (1000 * atSeconds);
            add(millis, List.of(Reading.number(id, channel, millis, value)));
        }
    }

    @Override
    public void flag(Channel channel, double atSeconds, boolean value) {
        if (channels.contains(channel) && atSeconds >= silentUntil) {
            long millis = startMillis + (long) (1000 * atSeconds);
            add(millis, List.of(Reading.flag(id, channel, millis, value)));
        }
    }

    /** What has arrived before a time; what comes later stays. */
    List<Row> take(double beforeSeconds) {
        long before = startMillis + (long) (1000 * beforeSeconds);
        List<Row> taken = new ArrayList<>(rows.size());
        List<Row> kept = new ArrayList<>();
        for (Row row : rows) {
            (row.arrivesMillis() < before ? taken : kept).add(row);
        }
        rows = kept;
        return taken;
    }
}
