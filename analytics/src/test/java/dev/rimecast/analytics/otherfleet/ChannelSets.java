package dev.rimecast.analytics.otherfleet;

import static dev.rimecast.telemetry.machine.Channel.AMBIENT_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.BIN_FULL;
import static dev.rimecast.telemetry.machine.Channel.CONDENSER_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.DRAIN_LEVEL;
import static dev.rimecast.telemetry.machine.Channel.DRAIN_LEVEL_TIME;
import static dev.rimecast.telemetry.machine.Channel.DRAIN_RUN_TIME;
import static dev.rimecast.telemetry.machine.Channel.EVAPORATOR_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.FILL_TIME;
import static dev.rimecast.telemetry.machine.Channel.FREEZE_TIME;
import static dev.rimecast.telemetry.machine.Channel.HARVEST_TIME;
import static dev.rimecast.telemetry.machine.Channel.PHASE;
import static dev.rimecast.telemetry.machine.Channel.PULL_DOWN_TIME;
import static dev.rimecast.telemetry.machine.Channel.SUPPLY_CURRENT;
import static dev.rimecast.telemetry.machine.Channel.WATER_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.WATER_VOLUME;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import java.util.EnumSet;
import java.util.Set;
import java.util.SplittableRandom;

/** What the gateways of a fleet can say. */
enum ChannelSets {
    /** Probes, controller, drain and water meter. */
    FULL,
    /** Site by site: everything, controller without place sensors, probes without controller. */
    MIXED,
    /** Two strap-on probes, and a current clamp on some. */
    BARE;

    private static final Set<Channel> PROBES = EnumSet.of(EVAPORATOR_TEMPERATURE, CONDENSER_TEMPERATURE);
    private static final Set<Channel> CONTROLLER =
            EnumSet.of(PHASE, BIN_FULL, FREEZE_TIME, HARVEST_TIME, PULL_DOWN_TIME, FILL_TIME);
    private static final Set<Channel> PLACE = EnumSet.of(AMBIENT_TEMPERATURE, WATER_TEMPERATURE);
    private static final Set<Channel> DRAIN = EnumSet.of(DRAIN_LEVEL, DRAIN_LEVEL_TIME, DRAIN_RUN_TIME);

    Set<Channel> draw(DrainKind drain, SplittableRandom random) {
        Set<Channel> channels = EnumSet.copyOf(PROBES);
        int richness = switch (this) {
            case FULL -> 3;
            case MIXED -> random.nextInt(4);
            case BARE -> 0;
        };
        if (richness == 0 && random.nextInt(2) == 0) {
            channels.add(SUPPLY_CURRENT);
        }
        if (richness == 1) {
            channels.add(AMBIENT_TEMPERATURE);
            channels.add(SUPPLY_CURRENT);
        }
        if (richness >= 2) {
            channels.addAll(CONTROLLER);
        }
        if (richness >= 2 && drain == DrainKind.PUMP) {
            channels.addAll(DRAIN);
        }
        if (richness == 3) {
            channels.addAll(PLACE);
            channels.add(WATER_VOLUME);
        }
        return channels;
    }
}
