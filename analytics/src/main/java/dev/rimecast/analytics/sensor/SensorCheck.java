package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Channel;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;

/**
 * Sensors that cannot be right: open or shorted (beyond what they can show), stuck (not moving at all while the other
 * temperature of the machine does), jumping, swapped, or at odds with the room after long rest. One finding for all sensors
 * of a machine; it names the first that was found.
 */
public final class SensorCheck {
    /** The other temperature must have moved by so much for a still one to be stuck: half of what it does in a cycle. */
    private static final double OTHER_MOVED_KELVIN = 6;

    private static final double FREEZING_CELSIUS = -3;

    private final Map<Channel, Probe> probes = new EnumMap<>(Channel.class);
    private Spikes evaporatorSpikes = new Spikes();
    private Spikes condenserSpikes = new Spikes();
    private SwappedProbes swapped = new SwappedProbes();
    private RestShift rest = new RestShift();

    public SensorCheck() {
        probes.put(Channel.EVAPORATOR_TEMPERATURE, new Probe());
        probes.put(Channel.CONDENSER_TEMPERATURE, new Probe());
        probes.put(Channel.AMBIENT_TEMPERATURE, new Probe());
        probes.put(Channel.WATER_TEMPERATURE, new Probe());
    }

    /**
     * Takes a temperature.
     *
     * @param compressorIsOff whether the machine rests
     * @return whether it can be what its channel says, so that others may use it
     */
    public boolean read(Channel channel, double celsius, boolean compressorIsOff, long millis, RuleContext context) {
        Probe probe = probes.get(channel);
        if (probe == null) {
            return true;
        }
        boolean isBad = celsius < context.policy().get(lowest(channel))
                || celsius > context.policy().get(highest(channel));
        probe.bad.see(isBad, millis);
        if (isBad) {
            if (probe.bad.isOnFor(context.policy().millis(PolicyNumber.SENSOR_BAD_MINUTES), millis)) {
                SensorWords.beyond(channel, celsius).report(millis, context);
            }
            return false;
        }
        checkStuck(channel, probe, celsius, millis, context);
        boolean isOfMachine = switch (channel) {
            case EVAPORATOR_TEMPERATURE -> {
                evaporator(celsius, millis, context);
                yield true;
            }
            case CONDENSER_TEMPERATURE -> {
                condenser(celsius, compressorIsOff, millis, context);
                yield true;
            }
            case AMBIENT_TEMPERATURE -> {
                rest.ambient(celsius, millis);
                yield false;
            }
            default -> false;
        };
        clearWhenGood(millis, context);
        return !isOfMachine || !swapped.isSwapped();
    }

    private void evaporator(double celsius, long millis, RuleContext context) {
        swapped.evaporator(celsius, millis);
        if (evaporatorSpikes.see(celsius, millis)) {
            SensorWords.jumping(Channel.EVAPORATOR_TEMPERATURE).report(millis, context);
        }
    }

    private void condenser(double celsius, boolean compressorIsOff, long millis, RuleContext context) {
        swapped.condenser(celsius, millis);
        if (swapped.isSwapped()) {
            SensorWords.swapped().report(millis, context);
            return;
        }
        if (condenserSpikes.see(celsius, millis)) {
            SensorWords.jumping(Channel.CONDENSER_TEMPERATURE).report(millis, context);
        }
        if (rest.condenser(celsius, compressorIsOff, millis)) {
            if (isShifted(context)) {
                SensorWords.shifted(rest).report(millis, context);
            } else if (isAtOdds(context)) {
                SensorWords.atOdds(rest).report(millis, context);
            }
        }
    }

    private boolean isShifted(RuleContext context) {
        OptionalDouble shift = rest.kelvin();
        return shift.isPresent()
                && StrictMath.abs(shift.getAsDouble()) > context.policy().get(PolicyNumber.REST_SHIFT_KELVIN);
    }

    private boolean isAtOdds(RuleContext context) {
        return StrictMath.abs(rest.bothKelvin()) > context.policy().get(PolicyNumber.REST_DIFFERENCE_KELVIN);
    }

    private void checkStuck(Channel channel, Probe probe, double celsius, long millis, RuleContext context) {
        boolean isEvaporator = channel == Channel.EVAPORATOR_TEMPERATURE;
        if (!isEvaporator && channel != Channel.CONDENSER_TEMPERATURE) {
            return;
        }
        Probe other = probe(isEvaporator ? Channel.CONDENSER_TEMPERATURE : Channel.EVAPORATOR_TEMPERATURE);
        other.seenByOther(celsius);
        probe.stuck.see(celsius == probe.value, millis);
        if (celsius != probe.value) {
            probe.moved(celsius);
        }
        if (isStuck(probe, millis, context)) {
            SensorWords.stuck(channel, celsius, millis - probe.stuck.sinceMillis())
                    .report(millis, context);
        }
    }

    private boolean isStuck(Probe probe, long millis, RuleContext context) {
        // A plate that warms over an open bin is no sign that the machine runs; one that has frozen is.
        boolean hasRun = probe != probes.get(Channel.CONDENSER_TEMPERATURE) || probe.otherLowest() <= FREEZING_CELSIUS;
        return hasRun
                && probe.stuck.isOnFor(context.policy().millis(PolicyNumber.SENSOR_STUCK_MINUTES), millis)
                && probe.otherMovedKelvin() >= OTHER_MOVED_KELVIN;
    }

    private void clearWhenGood(long millis, RuleContext context) {
        if (!context.isOpen(Condition.SENSOR_IMPLAUSIBLE)) {
            return;
        }
        boolean isGood = !swapped.isSwapped()
                && evaporatorSpikes.isQuiet(millis)
                && condenserSpikes.isQuiet(millis)
                && !isShifted(context)
                && !isAtOdds(context);
        long good = 10 * context.policy().millis(PolicyNumber.SENSOR_BAD_MINUTES);
        for (Probe probe : probes.values()) {
            boolean isQuiet = probe.bad.sinceMillis() == Long.MIN_VALUE || probe.bad.isOffFor(good, millis);
            isGood &= isQuiet && !isStuck(probe, millis, context);
        }
        if (isGood) {
            context.clear(Condition.SENSOR_IMPLAUSIBLE, millis, "All temperature sensors show what they can again.");
        }
    }

    /** A sensor was replaced, or the machine moved: what was learned of the sensors no longer holds. */
    public void replaced() {
        rest.relearn();
    }

    /** How the condenser sensor has shifted against the ambient sensor, seen at rest. */
    public RestShift restShift() {
        return rest;
    }

    /** Whether the two temperatures of the machine are each other's. */
    public boolean areSwapped() {
        return swapped.isSwapped();
    }

    private Probe probe(Channel channel) {
        return Objects.requireNonNull(probes.get(channel));
    }

    private static PolicyNumber lowest(Channel channel) {
        return switch (channel) {
            case EVAPORATOR_TEMPERATURE -> PolicyNumber.EVAPORATOR_MIN_CELSIUS;
            case CONDENSER_TEMPERATURE -> PolicyNumber.CONDENSER_MIN_CELSIUS;
            case AMBIENT_TEMPERATURE -> PolicyNumber.AMBIENT_MIN_CELSIUS;
            default -> PolicyNumber.WATER_MIN_CELSIUS;
        };
    }

    private static PolicyNumber highest(Channel channel) {
        return switch (channel) {
            case EVAPORATOR_TEMPERATURE -> PolicyNumber.EVAPORATOR_MAX_CELSIUS;
            case CONDENSER_TEMPERATURE -> PolicyNumber.CONDENSER_MAX_CELSIUS;
            case AMBIENT_TEMPERATURE -> PolicyNumber.AMBIENT_MAX_CELSIUS;
            default -> PolicyNumber.WATER_MAX_CELSIUS;
        };
    }

    public void save(StateWriter out) {
        probes.values().forEach(probe -> probe.save(out));
        evaporatorSpikes.save(out);
        condenserSpikes.save(out);
        swapped.save(out);
        rest.save(out);
    }

    public static SensorCheck restore(StateReader in) {
        SensorCheck check = new SensorCheck();
        check.probes.replaceAll((channel, probe) -> Probe.restore(in));
        check.evaporatorSpikes = Spikes.restore(in);
        check.condenserSpikes = Spikes.restore(in);
        check.swapped = SwappedProbes.restore(in);
        check.rest = RestShift.restore(in);
        return check;
    }
}
