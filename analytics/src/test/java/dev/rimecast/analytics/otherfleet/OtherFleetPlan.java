package dev.rimecast.analytics.otherfleet;

import java.time.Instant;

/**
 * A fleet from a seed.
 *
 * @param days how long it lives; slow faults are made to reach 80 % within it
 * @param sampleSeconds pace of the gateways
 * @param soundShare share of the machines with no fault
 */
record OtherFleetPlan(long seed, int sites, int days, int sampleSeconds, ChannelSets channels, double soundShare) {
    private static final Instant[] STARTS = {
        Instant.parse("2025-01-06T00:00:00Z"),
        Instant.parse("2025-03-24T00:00:00Z"),
        Instant.parse("2025-05-05T00:00:00Z"),
        Instant.parse("2025-08-18T00:00:00Z"),
    };

    OtherFleetPlan {
        if (sites < 1 || days < 10 || sampleSeconds < 1 || soundShare < 0 || soundShare > 1) {
            throw new IllegalArgumentException("at least 1 site, 10 days, 1 s, and a share of 0 to 1");
        }
    }

    static OtherFleetPlan of(long seed, int sites) {
        return new OtherFleetPlan(seed, sites, 120, 60, ChannelSets.MIXED, 0.5);
    }

    /** The season in which it begins goes with the seed. */
    Instant start() {
        return STARTS[(int) Math.floorMod(seed, (long) STARTS.length)];
    }
}
