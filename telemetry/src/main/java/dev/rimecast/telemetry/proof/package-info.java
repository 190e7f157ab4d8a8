/** Whether work on a machine has held. */
@NullMarked
package dev.rimecast.telemetry.proof;

import org.jspecify.annotations.NullMarked;
