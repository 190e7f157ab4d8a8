/** Records that a stage could not process: what they are, and how they are taken again. */
@NullMarked
package dev.rimecast.ingest.kafka.letters;

import org.jspecify.annotations.NullMarked;
