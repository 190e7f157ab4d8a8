/** Kafka and PostgreSQL inside the process, each with its data in one directory. */
@NullMarked
package dev.rimecast.engines;

import org.jspecify.annotations.NullMarked;
