/** A planned fleet of simulated machines and what its gateways would read. */
@NullMarked
package dev.rimecast.simulator.fleet;

import org.jspecify.annotations.NullMarked;
