/** Ingest's side of Kafka: the writer, the ticks, the register, and claimed readings. */
@NullMarked
package dev.rimecast.ingest.kafka;

import org.jspecify.annotations.NullMarked;
