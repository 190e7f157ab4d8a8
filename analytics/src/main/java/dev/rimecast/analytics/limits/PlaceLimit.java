package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.PlaceLimits;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;

/** Air or water outside what the place must offer, for long enough: the place, not the machine. */
public final class PlaceLimit {
    private static final double HYSTERESIS_KELVIN = 1;

    private final boolean isAir;
    private Spell outside = new Spell();
    private Spell inside = new Spell();

    private PlaceLimit(boolean isAir) {
        this.isAir = isAir;
    }

    public static PlaceLimit of(Channel channel) {
        return switch (channel) {
            case AMBIENT_TEMPERATURE -> new PlaceLimit(true);
            case WATER_TEMPERATURE -> new PlaceLimit(false);
            default -> throw new IllegalArgumentException(channel.code() + " is not of the place");
        };
    }

    /** A reading of the sensor. */
    public void read(double celsius, long millis, RuleContext context) {
        read(celsius, subject(), millis, context);
    }

    /** Without a sensor: what the condenser of the resting machine shows of the room. */
    public void readAtRest(double celsius, long millis, RuleContext context) {
        read(celsius, subject() + ", by its condenser at rest,", millis, context);
    }

    private void read(double celsius, String subject, long millis, RuleContext context) {
        Condition condition = isAir ? Condition.AMBIENT_OUT_OF_RANGE : Condition.WATER_OUT_OF_RANGE;
        PlaceLimits place = context.machine().place();
        double low = isAir ? place.ambientMinCelsius() : place.waterMinCelsius();
        double high = isAir ? place.ambientMaxCelsius() : place.waterMaxCelsius();
        outside.see(celsius < low || celsius > high, millis);
        inside.see(celsius >= low + HYSTERESIS_KELVIN && celsius <= high - HYSTERESIS_KELVIN, millis);
        if (!context.isOpen(condition)) {
            if (outside.isOnFor(context.policy().millis(PolicyNumber.PLACE_MINUTES), millis)) {
                context.report(condition, millis, assessment(celsius, subject, low, high));
            }
        } else if (inside.isOnFor(context.policy(condition).millis(PolicyNumber.PLACE_CLEAR_MINUTES), millis)) {
            context.clear(
                    condition,
                    millis,
                    String.format(Locale.ROOT, "%s is back between %.0f and %.0f °C.", subject(), low, high));
        }
    }

    private Assessment assessment(double celsius, String subject, double low, double high) {
        boolean isHot = celsius > high;
        Assessment found = Assessment.of(
                        Stage.AT_LIMIT,
                        Priority.MEDIUM,
                        String.format(
                                Locale.ROOT,
                                "%s is %.1f °C; the machine is made for %.0f to %.0f °C.",
                                subject,
                                celsius,
                                low,
                                high),
                        List.of(limit(isHot, isHot ? high : low), PolicyNumber.PLACE_MINUTES))
                .measure(new Measure(
                        isAir ? "ambient-temperature" : "water-temperature",
                        "Cel",
                        celsius,
                        OptionalDouble.empty(),
                        OptionalDouble.of(isHot ? high : low)));
        if (!isAir) {
            return found;
        }
        Cause cause = isHot ? Cause.ROOM_TOO_HOT : Cause.ROOM_TOO_COLD;
        return found.causes(List.of(new ProbableCause(
                cause, 0.8, List.of("The air that the machine takes in is outside its limits."), List.of())));
    }

    private Threshold limit(boolean isHighest, double celsius) {
        String column = (isAir ? "ambient_" : "water_") + (isHighest ? "max_c" : "min_c");
        return new Threshold.OfRegister(column, celsius, "Cel");
    }

    private String subject() {
        return isAir ? "Air at the machine" : "Water at the machine";
    }

    public void save(StateWriter out) {
        outside.save(out);
        inside.save(out);
    }

    public static PlaceLimit restore(Channel channel, StateReader in) {
        PlaceLimit rule = of(channel);
        rule.outside = Spell.restore(in);
        rule.inside = Spell.restore(in);
        return rule;
    }
}
