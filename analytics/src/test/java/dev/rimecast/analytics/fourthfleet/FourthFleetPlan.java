package dev.rimecast.analytics.fourthfleet;

import java.time.Instant;

/**
 * A fleet from a seed. It begins on a Monday in May.
 *
 * @param days how long it lives; developments of more than 85 days need more than 100
 * @param sampleSeconds pace of the gateways
 * @param soundShare share of the machines with no fault
 */
record FourthFleetPlan(long seed, int sites, int days, int sampleSeconds, ChannelScope channels, double soundShare) {
    private static final long START = Instant.parse("2025-05-05T00:00:00Z").getEpochSecond();

    FourthFleetPlan {
        if (sites < 1 || days < 20 || sampleSeconds < 1 || soundShare < 0 || soundShare > 1) {
            throw new IllegalArgumentException("at least 1 site, 20 days, 1 s, and a share of 0 to 1");
        }
    }

    long start() {
        return START;
    }

    long end() {
        return START + days * 86_400L;
    }
}
