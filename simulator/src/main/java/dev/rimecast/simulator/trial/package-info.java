/** Random fleets to measure detection on: any model, any fault, and everything around them that is no fault. */
@NullMarked
package dev.rimecast.simulator.trial;

import org.jspecify.annotations.NullMarked;
