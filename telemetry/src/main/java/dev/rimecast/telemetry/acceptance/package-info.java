/** Whether a new or moved machine does in its first cycles what its kind does. */
@NullMarked
package dev.rimecast.telemetry.acceptance;

import org.jspecify.annotations.NullMarked;
