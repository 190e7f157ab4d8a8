package dev.rimecast.analytics.fourthfleet;

import static dev.rimecast.telemetry.machine.Channel.AMBIENT_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.BIN_FULL;
import static dev.rimecast.telemetry.machine.Channel.CONDENSER_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.CONTROLLER_STATUS;
import static dev.rimecast.telemetry.machine.Channel.DRAIN_LEVEL;
import static dev.rimecast.telemetry.machine.Channel.DRAIN_LEVEL_TIME;
import static dev.rimecast.telemetry.machine.Channel.DRAIN_RUN_TIME;
import static dev.rimecast.telemetry.machine.Channel.EVAPORATOR_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.FILL_TIME;
import static dev.rimecast.telemetry.machine.Channel.FREEZE_TIME;
import static dev.rimecast.telemetry.machine.Channel.HARVEST_TIME;
import static dev.rimecast.telemetry.machine.Channel.ICE_MASS;
import static dev.rimecast.telemetry.machine.Channel.PHASE;
import static dev.rimecast.telemetry.machine.Channel.PULL_DOWN_TIME;
import static dev.rimecast.telemetry.machine.Channel.SUPPLY_CURRENT;
import static dev.rimecast.telemetry.machine.Channel.WATER_TEMPERATURE;
import static dev.rimecast.telemetry.machine.Channel.WATER_VOLUME;

import dev.rimecast.telemetry.machine.Channel;
import java.util.EnumSet;
import java.util.Set;

/** What the gateways of a fleet send. */
enum ChannelScope {
    FULL,
    /** Each machine sends what its owner happened to have. */
    MIXED,
    /** Two probes and nothing else. */
    BARE;

    private static final Set<Channel> PROBES = EnumSet.of(EVAPORATOR_TEMPERATURE, CONDENSER_TEMPERATURE);
    private static final Set<Channel> DRAIN = EnumSet.of(DRAIN_LEVEL, DRAIN_LEVEL_TIME, DRAIN_RUN_TIME);
    private static final Set<Channel> LENGTHS = EnumSet.of(FREEZE_TIME, HARVEST_TIME, PULL_DOWN_TIME, FILL_TIME);

    Set<Channel> draw(MachineGroup group, Chance chance) {
        Set<Channel> channels = switch (this) {
            case FULL -> EnumSet.allOf(Channel.class);
            case MIXED -> mixed(chance);
            case BARE -> EnumSet.copyOf(PROBES);
        };
        if (!group.hasDrainPump) {
            channels.removeAll(DRAIN);
        }
        return channels;
    }

    private static Set<Channel> mixed(Chance chance) {
        Set<Channel> channels = EnumSet.copyOf(PROBES);
        some(channels, chance.hit(.6), EnumSet.of(AMBIENT_TEMPERATURE));
        some(channels, chance.hit(.45), EnumSet.of(WATER_TEMPERATURE));
        some(channels, chance.hit(.5), EnumSet.of(SUPPLY_CURRENT));
        some(channels, chance.hit(.6), EnumSet.of(PHASE));
        some(channels, chance.hit(.55), EnumSet.of(BIN_FULL));
        some(channels, chance.hit(.65), DRAIN);
        boolean controller = channels.contains(PHASE);
        some(channels, controller && chance.hit(.6), LENGTHS);
        some(channels, controller && chance.hit(.5), EnumSet.of(CONTROLLER_STATUS));
        some(channels, chance.hit(.3), EnumSet.of(WATER_VOLUME));
        some(channels, chance.hit(.12), EnumSet.of(ICE_MASS));
        return channels;
    }

    private static void some(Set<Channel> channels, boolean has, Set<Channel> added) {
        if (has) {
            channels.addAll(added);
        }
    }
}
