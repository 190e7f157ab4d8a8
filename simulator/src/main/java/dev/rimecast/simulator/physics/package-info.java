/** A batch ice machine: refrigerant circuit, plate, sump, drain tank and the controller that runs them. */
@NullMarked
package dev.rimecast.simulator.physics;

import org.jspecify.annotations.NullMarked;
