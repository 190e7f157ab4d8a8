/** The site's log: every record that can change a decision, in one order. */
@NullMarked
package dev.rimecast.telemetry.log;

import org.jspecify.annotations.NullMarked;
