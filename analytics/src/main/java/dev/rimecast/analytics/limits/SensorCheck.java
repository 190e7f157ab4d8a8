package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Sensors that cannot be right: open or shorted (beyond what they can show), stuck (not moving at all while the other
 * temperature of the machine does), or at odds with the room after long rest. One finding for all sensors of a machine; it
 * names the first that was found.
 */
public final class SensorCheck {
    /** The other temperature must have moved by so much for a still one to be stuck: half of what it does in a cycle. */
    private static final double OTHER_MOVED_KELVIN = 6;

    private static final int RESTS_AT_ODDS = 2;

    private final Map<Channel, Probe> probes = new EnumMap<>(Channel.class);
    private int restsAtOdds;

    public SensorCheck() {
        probes.put(Channel.EVAPORATOR_TEMPERATURE, new Probe());
        probes.put(Channel.CONDENSER_TEMPERATURE, new Probe());
        probes.put(Channel.AMBIENT_TEMPERATURE, new Probe());
        probes.put(Channel.WATER_TEMPERATURE, new Probe());
    }

    /** Takes a temperature; returns whether it is within what the sensor can show, so that others may use it. */
    public boolean read(Channel channel, double celsius, long millis, RuleContext context) {
        Probe probe = probes.get(channel);
        if (probe == null) {
            return true;
        }
        boolean isBad = celsius < context.policy().get(lowest(channel))
                || celsius > context.policy().get(highest(channel));
        probe.bad.see(isBad, millis);
        if (isBad) {
            if (probe.bad.isOnFor(context.policy().millis(PolicyNumber.SENSOR_BAD_MINUTES), millis)) {
                String text = String.format(
                        Locale.ROOT,
                        "The %s sensor shows %.0f °C, which it cannot: it is open or shorted.",
                        name(channel),
                        celsius);
                report(channel, millis, text, context);
            }
            return false;
        }
        checkStuck(channel, probe, celsius, millis, context);
        clearWhenGood(millis, context);
        return true;
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
            probe.value = celsius;
            probe.otherLow = Double.POSITIVE_INFINITY;
            probe.otherHigh = Double.NEGATIVE_INFINITY;
        }
        if (isStuck(probe, millis, context)) {
            String text = String.format(
                    Locale.ROOT,
                    "The %s sensor has shown %.1f °C without moving for %.0f minutes while the machine ran.",
                    name(channel),
                    celsius,
                    (millis - probe.stuck.sinceMillis()) / 60_000.0);
            report(channel, millis, text, context);
        }
    }

    private static boolean isStuck(Probe probe, long millis, RuleContext context) {
        return probe.stuck.isOnFor(context.policy().millis(PolicyNumber.SENSOR_STUCK_MINUTES), millis)
                && probe.otherHigh - probe.otherLow >= OTHER_MOVED_KELVIN;
    }

    /** After long rest the condenser is as warm as the room; both are known here. */
    public void atRest(double condenser, double ambient, long millis, RuleContext context) {
        boolean isAtOdds = Math.abs(condenser - ambient) > context.policy().get(PolicyNumber.REST_DIFFERENCE_KELVIN);
        restsAtOdds = isAtOdds ? restsAtOdds + 1 : 0;
        if (restsAtOdds >= RESTS_AT_ODDS) {
            String text = String.format(
                    Locale.ROOT,
                    "After long rest the condenser sensor shows %.1f °C and the ambient sensor %.1f °C; both should be near.",
                    condenser,
                    ambient);
            report(Channel.CONDENSER_TEMPERATURE, millis, text, context);
        }
    }

    private static void report(Channel channel, long millis, String text, RuleContext context) {
        if (context.isOpen(Condition.SENSOR_IMPLAUSIBLE)) {
            return;
        }
        List<ProbableCause> causes = cause(channel)
                .map(cause -> List.of(new ProbableCause(cause, 0.85, List.of(text), List.of())))
                .orElse(List.of());
        context.report(
                Condition.SENSOR_IMPLAUSIBLE,
                millis,
                Assessment.of(Stage.AT_LIMIT, Priority.MEDIUM, text).causes(causes));
    }

    private void clearWhenGood(long millis, RuleContext context) {
        if (!context.isOpen(Condition.SENSOR_IMPLAUSIBLE) || restsAtOdds > 0) {
            return;
        }
        long good = 10 * context.policy().millis(PolicyNumber.SENSOR_BAD_MINUTES);
        for (Probe probe : probes.values()) {
            boolean isQuiet = probe.bad.sinceMillis() == Long.MIN_VALUE || probe.bad.isOffFor(good, millis);
            if (!isQuiet || isStuck(probe, millis, context)) {
                return;
            }
        }
        context.clear(Condition.SENSOR_IMPLAUSIBLE, millis, "All temperature sensors show what they can again.");
    }

    private Probe probe(Channel channel) {
        return java.util.Objects.requireNonNull(probes.get(channel));
    }

    private static Optional<Cause> cause(Channel channel) {
        return switch (channel) {
            case EVAPORATOR_TEMPERATURE -> Optional.of(Cause.EVAPORATOR_SENSOR_FAILED);
            case CONDENSER_TEMPERATURE -> Optional.of(Cause.CONDENSER_SENSOR_FAILED);
            default -> Optional.empty();
        };
    }

    private static String name(Channel channel) {
        return channel.code().replace("_temperature", "");
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
        out.whole(restsAtOdds);
        probes.values().forEach(probe -> probe.save(out));
    }

    public static SensorCheck restore(StateReader in) {
        SensorCheck check = new SensorCheck();
        check.restsAtOdds = in.wholeInt();
        check.probes.replaceAll((channel, probe) -> Probe.restore(in));
        return check;
    }

    /** What is remembered of one sensor. */
    private static final class Probe {
        private Spell bad = new Spell();
        private Spell stuck = new Spell();
        private double value = Double.POSITIVE_INFINITY;
        private double otherLow = Double.POSITIVE_INFINITY;
        private double otherHigh = Double.NEGATIVE_INFINITY;

        void seenByOther(double celsius) {
            otherLow = Math.min(otherLow, celsius);
            otherHigh = Math.max(otherHigh, celsius);
        }

        void save(StateWriter out) {
            bad.save(out);
            stuck.save(out);
            out.real(value).real(otherLow).real(otherHigh);
        }

        static Probe restore(StateReader in) {
            Probe probe = new Probe();
            probe.bad = Spell.restore(in);
            probe.stuck = Spell.restore(in);
            probe.value = in.real();
            probe.otherLow = in.real();
            probe.otherHigh = in.real();
            return probe;
        }
    }
}
