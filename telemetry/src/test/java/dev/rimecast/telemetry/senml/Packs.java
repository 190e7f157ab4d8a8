package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Readings to encode: a pack as a gateway of two machines sends it, and any number of random ones. */
final class Packs {
    static final long AT = 1_777_800_000_000L;

    static final List<Reading> OF_TWO_MACHINES = List.of(
            Reading.number("ice-0007", Channel.EVAPORATOR_TEMPERATURE, AT, -6.4),
            Reading.number("ice-0007", Channel.CONDENSER_TEMPERATURE, AT, 41.8),
            Reading.phase("ice-0007", AT, Phase.FREEZE),
            Reading.flag("ice-0007", Channel.BIN_FULL, AT, false),
            Reading.number("ice-0008", Channel.EVAPORATOR_TEMPERATURE, AT + 20, 3.1),
            Reading.number("ice-0008", Channel.CONDENSER_TEMPERATURE, AT + 20, 38),
            Reading.number("ice-0008", Channel.DRAIN_RUN_TIME, AT + 20 - 12_000, 2.3),
            Reading.text("ice-0008", Channel.CONTROLLER_STATUS, AT + 1020, "E4 \u00fc \"x\""));

    private Packs() {}

    static List<Reading> random(Random random) {
        List<Reading> readings = new ArrayList<>();
        int count = 1 + random.nextInt(40);
        for (int i = 0; i < count; i++) {
            String machine = "m" + random.nextInt(4);
            Channel channel = Channel.ofOrdinal(random.nextInt(Channel.count()));
            long at = AT + random.nextInt(10_000_000) - 5_000_000;
            readings.add(
                    switch (channel.kind()) {
                        case NUMBER -> Reading.number(machine, channel, at, number(random));
                        case DURATION, COUNTER -> Reading.number(machine, channel, at, Math.abs(number(random)));
                        case FLAG -> Reading.flag(machine, channel, at, random.nextBoolean());
                        case PHASE ->
                            Reading.phase(machine, at, Phase.ofOrdinal(random.nextInt(Phase.values().length)));
                        case TEXT -> Reading.text(machine, channel, at, "status " + (char) random.nextInt(0xd800));
                    });
        }
        return readings;
    }

    private static double number(Random random) {
        return switch (random.nextInt(5)) {
            case 0 -> random.nextInt(2000) - 1000;
            case 1 -> (random.nextInt(2000) - 1000) / 10.0;
            case 2 -> (random.nextInt(200_000) - 100_000) / 128.0;
            case 3 -> random.nextGaussian() * 1e-9;
            default -> random.nextGaussian() * 1e21;
        };
    }
}
