package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.limits.Spell;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.Kind;
import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * Sensors that cannot be right: open or shorted (beyond what they can show), stuck (not moving at all while the other
 * temperature of the machine does; but the plate of a continuous machine and a condenser whose water a valve regulates are that steady), jumping, swapped, or at odds with the room after long rest. One finding for all sensors
 * of a machine; it names the first that was found.
 */
public final class SensorCheck {
    /** Neighbours stand elsewhere in the room, and it is not always the same of them that are heard. */
    private static final double NEIGHBOURS_FACTOR = 2.2;

    private static final double FREEZING_CELSIUS = -3;
    /** What is on both sides of a longer one was not so all the time. */
    private static final long LONGEST_BREAK_MILLIS = 20 * 60_000L;

    /** A plate that warms by less than a kelvin in that time does not warm. */
    private static final long STILL_AT_REST_MILLIS = 45 * 60_000L;

    private static final long NONE = Long.MIN_VALUE;
    /** From this layout of a machine's state on it has when the evaporator was last heard. */
    private static final int WITH_LAST_EVAPORATOR = 13;
    /** From this one on, when the condenser was. */
    private static final int WITH_LAST_CONDENSER = 14;

    private final Map<Channel, Spell> beyond = new EnumMap<>(Channel.class);
    private Stuck evaporatorStuck = Stuck.ofEvaporator();
    private Stuck condenserStuck = Stuck.ofCondenser();
    private Spell frozenAtRest = new Spell();
    private Spikes evaporatorSpikes = new Spikes();
    private Spikes condenserSpikes = new Spikes();
    private SwappedProbes swapped = new SwappedProbes();
    private RestShift rest = new RestShift();
    private long evaporatorAt = NONE;
    private long condenserAt = NONE;

    public SensorCheck() {
        beyond.put(Channel.EVAPORATOR_TEMPERATURE, new Spell());
        beyond.put(Channel.CONDENSER_TEMPERATURE, new Spell());
        beyond.put(Channel.AMBIENT_TEMPERATURE, new Spell());
        beyond.put(Channel.WATER_TEMPERATURE, new Spell());
    }

    /**
     * Takes a temperature.
     *
     * @param compressorIsOff whether the machine rests
     * @return whether it can be what its channel says, so that others may use it
     */
    public boolean read(Channel channel, double celsius, boolean compressorIsOff, long millis, RuleContext context) {
        Spell bad = beyond.get(channel);
        if (bad == null) {
            return true;
        }
        boolean isBad = celsius < context.policy().get(lowest(channel))
                || celsius > context.policy().get(highest(channel));
        bad.see(isBad, millis);
        if (isBad) {
            if (bad.isOnFor(context.policy().millis(PolicyNumber.SENSOR_BAD_MINUTES), millis)) {
                boolean isLow = celsius < context.policy().get(lowest(channel));
                SensorWords.beyond(channel, celsius, isLow ? lowest(channel) : highest(channel))
                        .report(millis, context);
            }
            return false;
        }
        if (isLone(channel, celsius, millis)) {
            return false;
        }
        boolean isOfMachine = switch (channel) {
            case EVAPORATOR_TEMPERATURE -> {
                evaporator(celsius, compressorIsOff, millis, context);
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

    /** One reading that no machine can have made; three of them are a fault, which the next one tells. */
    private boolean isLone(Channel channel, double celsius, long millis) {
        boolean isOfPlate = channel == Channel.EVAPORATOR_TEMPERATURE;
        if (!isOfPlate && channel != Channel.CONDENSER_TEMPERATURE) {
            return false;
        }
        Spikes spikes = isOfPlate ? evaporatorSpikes : condenserSpikes;
        boolean isLone = spikes.isLone(celsius, millis);
        if (isLone) {
            spikes.see(celsius, millis);
        }
        return isLone;
    }

    private void evaporator(double celsius, boolean compressorIsOff, long millis, RuleContext context) {
        swapped.evaporator(celsius, millis);
        evaporatorStuck.see(celsius, millis);
        condenserStuck.other(celsius, millis);
        boolean isAfterBreak = isSilent(evaporatorAt, millis);
        if (isAfterBreak) {
            // Nobody has seen what it did meanwhile.
            frozenAtRest.forget();
        }
        evaporatorAt = Math.max(evaporatorAt, millis);
        if (!isAfterBreak && isSilent(condenserAt, millis) && isCondenserStuck(millis, context)) {
            SensorWords.silent(Channel.CONDENSER_TEMPERATURE, millis - condenserAt)
                    .report(millis, context);
            condenserStuck.told();
        }
        frozenAtRest.see(compressorIsOff && celsius <= FREEZING_CELSIUS, millis);
        if (isPlateStill(millis, context)) {
            SensorWords.stuck(Channel.EVAPORATOR_TEMPERATURE, celsius, millis - evaporatorStuck.sinceMillis())
                    .report(millis, context);
            evaporatorStuck.told();
        } else if (isFrozenAtRest(millis, context)) {
            SensorWords.frozenAtRest(celsius, millis - frozenAtRest.sinceMillis())
                    .report(millis, context);
        }
        if (evaporatorSpikes.see(celsius, millis)) {
            SensorWords.jumping(Channel.EVAPORATOR_TEMPERATURE).report(millis, context);
        }
    }

    private void condenser(double celsius, boolean compressorIsOff, long millis, RuleContext context) {
        swapped.condenser(celsius, millis);
        condenserStuck.see(celsius, millis);
        evaporatorStuck.other(celsius, millis);
        boolean isAfterBreak = isSilent(condenserAt, millis);
        condenserAt = Math.max(condenserAt, millis);
        if (!isAfterBreak && isSilent(evaporatorAt, millis) && isEvaporatorStuck(millis, context)) {
            SensorWords.silent(Channel.EVAPORATOR_TEMPERATURE, millis - evaporatorAt)
                    .report(millis, context);
            evaporatorStuck.told();
        }
        if (isCondenserStill(millis, context)) {
            SensorWords.stuck(Channel.CONDENSER_TEMPERATURE, celsius, millis - condenserStuck.sinceMillis())
                    .report(millis, context);
            condenserStuck.told();
        }
        if (swapped.isSwapped()) {
            SensorWords.swapped().report(millis, context);
            return;
        }
        if (condenserSpikes.see(celsius, millis)) {
            SensorWords.jumping(Channel.CONDENSER_TEMPERATURE).report(millis, context);
        }
        // In water or outdoors a condenser never comes to what the air of the room is.
        boolean isInRoom = context.machine().condenserCooling() == Cooling.AIR;
        if (isInRoom && rest.condenser(celsius, compressorIsOff, millis)) {
            if (isShifted(context)) {
                SensorWords.shifted(rest).report(millis, context);
            } else if (isAtOdds(context)) {
                SensorWords.atOdds(rest).report(millis, context);
            }
        }
    }

    private static boolean isSilent(long lastMillis, long millis) {
        return lastMillis != NONE && millis - lastMillis > LONGEST_BREAK_MILLIS;
    }

    private boolean isShifted(RuleContext context) {
        OptionalDouble shift = rest.kelvin();
        double allowed =
                context.policy().get(PolicyNumber.REST_SHIFT_KELVIN) * (rest.isByOwn() ? 1 : NEIGHBOURS_FACTOR);
        return shift.isPresent() && StrictMath.abs(shift.getAsDouble()) > allowed;
    }

    private boolean isAtOdds(RuleContext context) {
        return rest.isByOwn()
                && StrictMath.abs(rest.bothKelvin()) > context.policy().get(PolicyNumber.REST_DIFFERENCE_KELVIN);
    }

    private boolean isEvaporatorStuck(long millis, RuleContext context) {
        return evaporatorStuck.isStuck(millis, allowed(context), Double.POSITIVE_INFINITY);
    }

    /** A plate that warms over an open bin is no sign that the machine runs; one that has frozen is. */
    private boolean isCondenserStuck(long millis, RuleContext context) {
        return condenserStuck.isStuck(millis, allowed(context), FREEZING_CELSIUS);
    }

    private boolean isPlateStill(long millis, RuleContext context) {
        return context.machine().kind() != Kind.CONTINUOUS && isEvaporatorStuck(millis, context);
    }

    private boolean isCondenserStill(long millis, RuleContext context) {
        return context.machine().condenserCooling() != Cooling.WATER && isCondenserStuck(millis, context);
    }

    /**
     * A plate that nothing cools comes to 0 °C while it carries ice, and above without. A thick slab takes its time in a closed
     * cabinet, but it does warm.
     */
    private boolean isFrozenAtRest(long millis, RuleContext context) {
        return frozenAtRest.isOnFor(allowed(context), millis)
                && evaporatorStuck.sinceMillis() != NONE
                && millis - evaporatorStuck.sinceMillis() >= STILL_AT_REST_MILLIS;
    }

    private static long allowed(RuleContext context) {
        return context.policy().millis(PolicyNumber.SENSOR_STUCK_MINUTES);
    }

    private void clearWhenGood(long millis, RuleContext context) {
        if (!context.isOpen(Condition.SENSOR_IMPLAUSIBLE)) {
            return;
        }
        boolean isGood = !swapped.isSwapped()
                && !isPlateStill(millis, context)
                && !isCondenserStill(millis, context)
                && !isFrozenAtRest(millis, context)
                && evaporatorSpikes.isQuiet(millis)
                && condenserSpikes.isQuiet(millis)
                && !isShifted(context)
                && !isAtOdds(context);
        long good = 10 * context.policy().millis(PolicyNumber.SENSOR_BAD_MINUTES);
        for (Spell bad : beyond.values()) {
            isGood &= bad.sinceMillis() == Long.MIN_VALUE || bad.isOffFor(good, millis);
        }
        if (isGood) {
            context.clear(Condition.SENSOR_IMPLAUSIBLE, millis, "All temperature sensors show what they can again.");
        }
    }

    /** Somebody has worked on the machine: what comes back now does not come back by itself. */
    public void worked() {
        evaporatorStuck.worked();
        condenserStuck.worked();
    }

    /** A sensor was replaced, or the machine moved: what was learned of the sensors no longer holds. */
    public void replaced() {
        rest.relearn();
        evaporatorStuck.replaced();
        condenserStuck.replaced();
    }

    /** What a neighbour in the same room says of its temperature. */
    public void ambientOfNeighbour(double celsius, long millis) {
        rest.ambientOfNeighbour(celsius, millis);
    }

    /** How the condenser sensor has shifted against the ambient sensor, seen at rest. */
    public RestShift restShift() {
        return rest;
    }

    /** Whether the two temperatures of the machine are each other's. */
    public boolean areSwapped() {
        return swapped.isSwapped();
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
        beyond.values().forEach(bad -> bad.save(out));
        evaporatorStuck.save(out);
        condenserStuck.save(out);
        frozenAtRest.save(out);
        evaporatorSpikes.save(out);
        condenserSpikes.save(out);
        swapped.save(out);
        rest.save(out);
        out.time(evaporatorAt).time(condenserAt);
    }

    public static SensorCheck restore(StateReader in) {
        SensorCheck check = new SensorCheck();
        check.beyond.replaceAll((channel, bad) -> Spell.restore(in));
        check.evaporatorStuck = Stuck.restore(true, in);
        check.condenserStuck = Stuck.restore(false, in);
        check.frozenAtRest = Spell.restore(in);
        check.evaporatorSpikes = Spikes.restore(in);
        check.condenserSpikes = Spikes.restore(in);
        check.swapped = SwappedProbes.restore(in);
        check.rest = RestShift.restore(in);
        if (in.hasLayout(WITH_LAST_EVAPORATOR)) {
            check.evaporatorAt = in.time();
            check.condenserAt = in.hasLayout(WITH_LAST_CONDENSER) ? in.time() : NONE;
        }
        return check;
    }
}
