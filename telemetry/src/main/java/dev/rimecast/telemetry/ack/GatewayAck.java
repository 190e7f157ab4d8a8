package dev.rimecast.telemetry.ack;

import dev.rimecast.telemetry.log.PackNumber;

/**
 * How far a gateway's numbered packs are stored for good, without a gap: the gateway may delete them.
 *
 * @param upTo the last of them
 * @param missing how many of this boot's packs never came and were stepped over, see {@link PackGap}
 */
public record GatewayAck(String gateway, PackNumber upTo, long missing) {
    public GatewayAck {
        if (missing < 0) {
            throw new IllegalArgumentException("missing must not be negative, was " + missing);
        }
    }
}
