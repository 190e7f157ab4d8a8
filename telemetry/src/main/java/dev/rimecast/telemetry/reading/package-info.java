/** Readings and the packs that carry them. */
@NullMarked
package dev.rimecast.telemetry.reading;

import org.jspecify.annotations.NullMarked;
