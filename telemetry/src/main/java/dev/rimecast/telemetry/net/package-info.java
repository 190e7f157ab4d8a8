/** Sockets and threads for clients of MQTT, of which gateways and ingest have the same. */
@NullMarked
package dev.rimecast.telemetry.net;

import org.jspecify.annotations.NullMarked;
