/** What goes wrong with simulated machines, and the truth about it. */
@NullMarked
package dev.rimecast.simulator.fault;

import org.jspecify.annotations.NullMarked;
