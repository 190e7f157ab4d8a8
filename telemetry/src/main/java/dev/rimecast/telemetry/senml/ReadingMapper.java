package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;

/** Resolved records to readings: name to machine and channel, value and unit to those of the channel. One per pack. */
final class ReadingMapper {
    /** Longer words of a controller are no status, characters. */
    static final int MAX_TEXT_LENGTH = 256;

    /** Machine of the record before, with its slash: most records are of the same, and need no second check. */
    private String lastPrefix = "";

    private String lastMachine = "";
    private int lenientUnits;

    /** Readings so far that have a secondary unit which their pack doesn't announce. */
    int lenientUnits() {
        return lenientUnits;
    }

    /** @throws BadRecord if it is no reading of one of our channels */
    Reading reading(SenmlRecord senml) {
        String code = channelOf(senml);
        Channel channel = Channel.ofCode(code)
                .orElseThrow(() -> new BadRecord(RejectReason.UNKNOWN_CHANNEL, "channel " + Quoted.of(code)));
        if (senml.value() instanceof SenmlValue.SumOnly) {
            throw new BadRecord(RejectReason.NO_VALUE, "a sum, but none of v, vs, vb, vd");
        }
        return switch (channel.kind()) {
            case NUMBER, DURATION, COUNTER -> number(senml, channel);
            case FLAG -> flag(senml, channel);
            case PHASE -> phase(senml);
            case TEXT -> text(senml, channel);
        };
    }

    private String channelOf(SenmlRecord senml) {
        if (!lastMachine.isEmpty() && senml.base().equals(lastPrefix)) {
            return senml.own();
        }
        String name = senml.name();
        if (lastMachine.isEmpty() || !name.startsWith(lastPrefix)) {
            takeMachine(name);
        }
        return name.substring(lastPrefix.length());
    }

    private void takeMachine(String name) {
        int slash = name.indexOf('/');
        String machine = slash < 0 ? "" : name.substring(0, slash);
        if (!Ids.isLegal(machine)) {
            throw new BadRecord(RejectReason.BAD_NAME, "name " + Quoted.of(name) + " is not {machine}/{channel}");
        }
        lastMachine = machine;
        lastPrefix = name.substring(0, slash + 1);
    }

    private Reading number(SenmlRecord senml, Channel channel) {
        if (!(senml.value() instanceof SenmlValue.Number number)) {
            throw wrongType(channel, "a number (v)");
        }
        ChannelUnit unit = ChannelUnit.of(senml.unit(), channel);
        double value = unit.toChannel(number.value());
        if (!Double.isFinite(value)) {
            throw new BadRecord(RejectReason.NOT_A_NUMBER, "v in " + channel.unit() + " is beyond a double");
        }
        if (value < 0 && channel.kind() != Channel.Kind.NUMBER) {
            throw new BadRecord(RejectReason.OUT_OF_RANGE, channel.code() + " must not be negative: " + value);
        }
        if (unit.secondary() && senml.version() != RecordResolver.SECONDARY_UNITS_VERSION) {
            lenientUnits++;
        }
        return new Reading(lastMachine, channel, senml.timeMillis(), value, "");
    }

    private Reading flag(SenmlRecord senml, Channel channel) {
        if (!(senml.value() instanceof SenmlValue.Flag flag)) {
            throw wrongType(channel, "true or false (vb)");
        }
        requireNoUnit(senml, channel);
        return Reading.flag(lastMachine, channel, senml.timeMillis(), flag.value());
    }

    private Reading phase(SenmlRecord senml) {
        String word = textOf(senml, Channel.PHASE);
        Phase phase = Phase.ofCode(word)
                .orElseThrow(() -> new BadRecord(RejectReason.OUT_OF_RANGE, "phase " + Quoted.of(word)));
        return Reading.phase(lastMachine, senml.timeMillis(), phase);
    }

    private Reading text(SenmlRecord senml, Channel channel) {
        String text = textOf(senml, channel);
        if (text.length() > MAX_TEXT_LENGTH) {
            throw new BadRecord(
                    RejectReason.OUT_OF_RANGE,
                    channel.code() + " has " + text.length() + " characters, at most " + MAX_TEXT_LENGTH);
        }
        return Reading.text(lastMachine, channel, senml.timeMillis(), text);
    }

    private static String textOf(SenmlRecord senml, Channel channel) {
        if (!(senml.value() instanceof SenmlValue.Text text)) {
            throw wrongType(channel, "a text (vs)");
        }
        requireNoUnit(senml, channel);
        return text.value();
    }

    /** A base unit is meant for the numbers of its pack; a unit of the record's own is a mistake. */
    private static void requireNoUnit(SenmlRecord senml, Channel channel) {
        if (senml.hasOwnUnit()) {
            ChannelUnit.of(senml.unit(), channel);
        }
    }

    private static BadRecord wrongType(Channel channel, String expected) {
        return new BadRecord(RejectReason.WRONG_VALUE_TYPE, channel.code() + " must have " + expected);
    }
}
