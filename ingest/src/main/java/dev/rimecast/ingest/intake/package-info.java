/** What becomes of a message: the checks of the contract, without MQTT and without Kafka. */
@NullMarked
package dev.rimecast.ingest.intake;

import org.jspecify.annotations.NullMarked;
