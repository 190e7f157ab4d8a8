package dev.rimecast.ingest;

import dev.rimecast.ingest.broker.BrokerHealth;
import java.time.Duration;
import java.util.Optional;

/**
 * How ingest does.
 *
 * @param hasRegister whether the register has been read; without it gateways are turned away
 * @param connections of gateways, now
 * @param packsInFlight messages that Kafka has not confirmed yet
 * @param bytesInFlight of them
 * @param isHoldingBack whether nothing is read until Kafka has caught up
 * @param broker how the broker is that we subscribe to; empty: there is none
 * @param fullDisk why nothing is taken in for want of room; empty: there is room
 * @param certificate why the certificate of MQTT over TLS that is shown is not the one in its file; empty: it is, or there is none
 * @param stalledFor how long Kafka has confirmed nothing although something waits
 */
public record IngestHealth(
        boolean hasRegister,
        int connections,
        int packsInFlight,
        long bytesInFlight,
        boolean isHoldingBack,
        Optional<BrokerHealth> broker,
        Optional<String> fullDisk,
        Optional<String> certificate,
        Duration stalledFor) {
    private static final Duration TOO_LONG = Duration.ofSeconds(10);

    /** Whether packs are taken and confirmed. */
    public boolean isWell() {
        return hasRegister && fullDisk.isEmpty() && !isHoldingBack && !isStalled() && isBrokerThere();
    }

    /** Whether every broker that we should subscribe to is there. */
    public boolean isBrokerThere() {
        return broker.map(BrokerHealth::isConnected).orElse(true);
    }

    private boolean isStalled() {
        return stalledFor.compareTo(TOO_LONG) > 0;
    }

    /** In one line, for an operator. */
    public String inWords() {
        if (!hasRegister) {
            return "gateways are turned away: the register has not been read yet";
        }
        if (fullDisk.isPresent()) {
            return "nothing is taken in: " + fullDisk.get();
        }
        if (isHoldingBack) {
            return "holding gateways back: " + packsInFlight + " packs wait for Kafka";
        }
        if (isStalled()) {
            return "Kafka has confirmed nothing for " + stalledFor.toSeconds() + " s, " + packsInFlight + " packs wait";
        }
        if (!isBrokerThere()) {
            return broker.map(BrokerHealth::inWords).orElse("");
        }
        return "taking packs from " + connections + " connections"
                + broker.map(there -> ", " + there.inWords()).orElse("")
                + certificate
                        .map(why -> "; a certificate was not renewed: " + why)
                        .orElse("");
    }
}
