package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.physics.Noise;

/** What the gateways of a trial fleet read. */
public enum TrialChannels {
    /** Every machine with all channels. */
    FULL,
    /** Half of the machines with all channels, the others with fewer. */
    MIXED,
    /** Two temperatures and nothing else. */
    BARE;

    ChannelSet pick(Noise noise) {
        double draw = noise.uniform();
        return switch (this) {
            case FULL -> ChannelSet.FULL;
            case BARE -> ChannelSet.TEMPERATURES;
            case MIXED ->
                draw < 0.5
                        ? ChannelSet.FULL
                        : draw < 0.7
                                ? ChannelSet.TEMPERATURES_AND_PHASE
                                : draw < 0.85 ? ChannelSet.TEMPERATURES : ChannelSet.DURATIONS;
        };
    }
}
