package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.physics.IceMachine;
import dev.rimecast.simulator.physics.MachineEvents;
import dev.rimecast.simulator.physics.StopReason;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalLong;

/** Turns what one machine does into what its gateway reads. */
final class Recorder implements MachineEvents {
    private static final long SLOW_MILLIS = 300_000;
    private static final long REPEAT_MILLIS = 600_000;
    private static final double OPEN_PROBE_CELSIUS = -50;

    private final String id;
    private final ChannelSet channels;
    private final boolean drainProbes;
    private final Sensors sensors;
    private final List<Reading> readings = new ArrayList<>();
    private OptionalLong firstStop = OptionalLong.empty();
    private boolean binFull;
    private boolean swapped;
    private boolean started;
    private long phaseSaidAt = -1;

    Recorder(String id, ChannelSet channels, boolean drainProbes, Sensors sensors) {
        this.id = id;
        this.channels = channels;
        this.drainProbes = drainProbes;
        this.sensors = sensors;
    }

    /** Readings since this was last asked, in the order in which they came. */
    List<Reading> take() {
        List<Reading> taken = List.copyOf(readings);
        readings.clear();
        return taken;
    }

    /** When the machine stopped itself since this was last asked. */
    OptionalLong takeStop() {
        OptionalLong taken = firstStop;
        firstStop = OptionalLong.empty();
        return taken;
    }

    void swapProbes(boolean swap) {
        swapped = swap;
    }

    void sample(long millis, IceMachine machine, boolean evaporatorOpen, double airCelsius, double waterCelsius) {
        boolean slow = millis % SLOW_MILLIS == 0;
        if (channels != ChannelSet.DURATIONS || slow) {
            temperatures(millis, machine, evaporatorOpen);
        }
        if (channels.place()) {
            number(Channel.SUPPLY_CURRENT, millis, sensors.amperes(machine.watts()));
            if (slow) {
                number(Channel.AMBIENT_TEMPERATURE, millis, sensors.ambient(airCelsius));
                number(Channel.WATER_TEMPERATURE, millis, sensors.water(waterCelsius));
            }
            if (millis % REPEAT_MILLIS == 0) {
                number(Channel.WATER_VOLUME, millis, StrictMath.rint(machine.waterKg()) / 1000);
            }
        }
        if (channels.phase()) {
            state(millis, machine);
        }
        started = true;
    }

    private void temperatures(long millis, IceMachine machine, boolean evaporatorOpen) {
        double evaporator = evaporatorOpen ? OPEN_PROBE_CELSIUS : sensors.evaporator(machine.evaporatorProbeCelsius());
        double condenser = sensors.condenser(machine.condenserProbeCelsius());
        number(Channel.EVAPORATOR_TEMPERATURE, millis, swapped ? condenser : evaporator);
        number(Channel.CONDENSER_TEMPERATURE, millis, swapped ? evaporator : condenser);
    }

    private void state(long millis, IceMachine machine) {
        boolean repeat = !started || millis % REPEAT_MILLIS == 0;
        // A phase that changed at this very moment has been said.
        if (repeat && phaseSaidAt != millis) {
            readings.add(Reading.phase(id, millis, machine.phase()));
        }
        if (channels.place()) {
            boolean full = machine.saysBinFull();
            if (repeat || full != binFull) {
                readings.add(Reading.flag(id, Channel.BIN_FULL, millis, full));
            }
            binFull = full;
        }
    }

    private void number(Channel channel, long millis, double value) {
        readings.add(Reading.number(id, channel, millis, value));
    }

    @Override
    public void phase(long timeMillis, Phase phase) {
        if (channels.phase()) {
            phaseSaidAt = timeMillis;
            readings.add(Reading.phase(id, timeMillis, phase));
        }
    }

    @Override
    public void duration(long timeMillis, Channel channel, double seconds) {
        // A gateway that sends the edges does not send their distance as well.
        boolean left = switch (channel) {
            case DRAIN_LEVEL_TIME -> !drainProbes || channels == ChannelSet.FULL;
            case DRAIN_RUN_TIME -> !drainProbes;
            default -> false;
        };
        if (channels.durations() && !left) {
            number(channel, timeMillis, StrictMath.rint(seconds * 10) / 10);
        }
    }

    @Override
    public void drainLevel(long timeMillis, boolean bridged) {
        if (drainProbes && channels == ChannelSet.FULL) {
            readings.add(Reading.flag(id, Channel.DRAIN_LEVEL, timeMillis, bridged));
        }
    }

    @Override
    public void stopped(long timeMillis, StopReason reason) {
        if (firstStop.isEmpty()) {
            firstStop = OptionalLong.of(timeMillis);
        }
        if (channels == ChannelSet.FULL) {
            String words = "stopped: " + reason.name().toLowerCase(Locale.ROOT).replace('_', '-');
            readings.add(Reading.text(id, Channel.CONTROLLER_STATUS, timeMillis, words));
        }
    }
}
