/** Sensors that cannot be right: beyond what they can show, stuck, swapped, jumping, or at odds with the others. */
@NullMarked
package dev.rimecast.analytics.sensor;

import org.jspecify.annotations.NullMarked;
