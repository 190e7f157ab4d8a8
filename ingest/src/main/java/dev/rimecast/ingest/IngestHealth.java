package dev.rimecast.ingest;

import java.time.Duration;

/**
 * How ingest does.
 *
 * @param hasRegister whether the register has been read; without it gateways are turned away
 * @param connections of gateways, now
 * @param packsInFlight messages that Kafka has not confirmed yet
 * @param bytesInFlight of them
 * @param isHoldingBack whether nothing is read until Kafka has caught up
 * @param stalledFor how long Kafka has confirmed nothing although something waits
 */
public record IngestHealth(
        boolean hasRegister,
        int connections,
        int packsInFlight,
        long bytesInFlight,
        boolean isHoldingBack,
        Duration stalledFor) {
    private static final Duration TOO_LONG = Duration.ofSeconds(10);

    /** Whether packs are taken and confirmed. */
    public boolean isWell() {
        return hasRegister && !isHoldingBack && stalledFor.compareTo(TOO_LONG) <= 0;
    }

    /** In one line, for an operator. */
    public String inWords() {
        if (!hasRegister) {
            return "gateways are turned away: the register has not been read yet";
        }
        if (isHoldingBack) {
            return "holding gateways back: " + packsInFlight + " packs wait for Kafka";
        }
        if (!isWell()) {
            return "Kafka has confirmed nothing for " + stalledFor.toSeconds() + " s, " + packsInFlight + " packs wait";
        }
        return "taking packs from " + connections + " connections";
    }
}
