/** Ingest: MQTT in, checks, Kafka out. {@link dev.rimecast.ingest.IngestStage} wires it. */
@NullMarked
package dev.rimecast.ingest;

import org.jspecify.annotations.NullMarked;
