/** From readings in order to freeze-harvest cycles: by phase, by the two temperatures alone, or by durations alone. */
@NullMarked
package dev.rimecast.analytics.cycle;

import org.jspecify.annotations.NullMarked;
