package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.RejectReason;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * A unit that a record may have, as a way to its channel's unit: multiply, divide, add.
 *
 * @param primary unit of the SenML units registry that it ends in
 * @param secondary whether it comes from the registry of secondary units, which a pack should announce with its version
 */
record ChannelUnit(String primary, double factor, double divisor, double offset, boolean secondary) {

    private static final ChannelUnit OWN = new ChannelUnit("", 1, 1, 0, false);

    /**
     * RFC 8798 section 3 (ms, min, h, mA); the units that RFC 8428 section 12.1 has but does not recommend (l, g); and
     * the kelvin, of which the degree Celsius is the registry's alternative. No other unit of either registry has the
     * quantity of one of our channels. Scales are fractions, so that 1285 ms is the double nearest to 1.285 s.
     */
    private static final Map<String, ChannelUnit> OTHERS = Map.of(
            "ms", new ChannelUnit("s", 1, 1000, 0, true),
            "min", new ChannelUnit("s", 60, 1, 0, true),
            "h", new ChannelUnit("s", 3600, 1, 0, true),
            "mA", new ChannelUnit("A", 1, 1000, 0, true),
            "l", new ChannelUnit("m3", 1, 1000, 0, false),
            "g", new ChannelUnit("kg", 1, 1000, 0, false),
            "K", new ChannelUnit("Cel", 1, 1, -273.15, false));

    /** How people write it; the registry's own F is the farad, which no temperature has. */
    private static final Set<String> FAHRENHEIT =
            Set.of("f", "degf", "deg_f", "[degf]", "\u00b0f", "\u00baf", "\u2109", "fah", "fahr", "fahrenheit");

    /**
     * @param unit as the record has it, empty for the channel's own
     * @throws BadRecord if there is no way from it to the channel's unit
     */
    static ChannelUnit of(String unit, Channel channel) {
        if (unit.isEmpty() || unit.equals(channel.unit())) {
            return OWN;
        }
        ChannelUnit other = OTHERS.get(unit);
        if (other != null && other.primary.equals(channel.unit())) {
            return other;
        }
        if (channel.unit().equals("Cel") && FAHRENHEIT.contains(unit.toLowerCase(Locale.ROOT))) {
            throw new BadRecord(
                    RejectReason.FAHRENHEIT,
                    "unit " + Quoted.of(unit) + ": SenML has no Fahrenheit, convert to Cel at the gateway");
        }
        String expected = channel.unit().isEmpty() ? "has no unit" : "is in " + channel.unit();
        throw new BadRecord(
                RejectReason.UNKNOWN_UNIT, "unit " + Quoted.of(unit) + ", but " + channel.code() + ' ' + expected);
    }

    double toChannel(double value) {
        return this == OWN ? value : value * factor / divisor + offset;
    }
}
