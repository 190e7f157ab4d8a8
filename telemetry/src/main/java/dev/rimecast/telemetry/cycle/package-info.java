/** Freeze-harvest cycles and what was expected of them. */
@NullMarked
package dev.rimecast.telemetry.cycle;

import org.jspecify.annotations.NullMarked;
