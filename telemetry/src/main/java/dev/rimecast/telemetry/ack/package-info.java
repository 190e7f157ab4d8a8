/** How far a gateway's numbered packs are stored for good, in the topic {@code acks} and as the gateway is told it. */
@NullMarked
package dev.rimecast.telemetry.ack;

import org.jspecify.annotations.NullMarked;
