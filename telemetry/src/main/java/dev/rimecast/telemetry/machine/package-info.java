/** Machines, gateways, sites and what they can be asked: the register. */
@NullMarked
package dev.rimecast.telemetry.machine;

import org.jspecify.annotations.NullMarked;
