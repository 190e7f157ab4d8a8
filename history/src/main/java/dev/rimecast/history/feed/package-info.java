/** Kafka into files. */
@NullMarked
package dev.rimecast.history.feed;

import org.jspecify.annotations.NullMarked;
