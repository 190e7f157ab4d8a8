/** Cycles against expectations: residuals that change become findings with a forecast and a diagnosis. */
@NullMarked
package dev.rimecast.analytics.watch;

import org.jspecify.annotations.NullMarked;
