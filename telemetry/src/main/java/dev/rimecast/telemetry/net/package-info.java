/** Sockets and threads for clients of MQTT, of which gateways and ingest have the same, and certificates that ingest and pages show. */
@NullMarked
package dev.rimecast.telemetry.net;

import org.jspecify.annotations.NullMarked;
