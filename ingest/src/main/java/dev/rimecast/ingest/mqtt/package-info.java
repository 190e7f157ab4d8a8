/** The MQTT endpoint: bytes in, receipts out. A receipt leaves only after Kafka has what the message caused. */
@NullMarked
package dev.rimecast.ingest.mqtt;

import org.jspecify.annotations.NullMarked;
