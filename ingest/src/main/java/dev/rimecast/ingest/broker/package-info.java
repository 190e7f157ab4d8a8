/** Ingest as a subscriber: packs that an MQTT 5 broker took from gateways. */
@NullMarked
package dev.rimecast.ingest.broker;

import org.jspecify.annotations.NullMarked;
