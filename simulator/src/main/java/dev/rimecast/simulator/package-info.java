/** A fleet of simulated machines with faults and the truth about them; it knows nothing of detection. */
@NullMarked
package dev.rimecast.simulator;

import org.jspecify.annotations.NullMarked;
