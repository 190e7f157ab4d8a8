/** Which silence is which, as pure functions: no clock, no database. */
@NullMarked
package dev.rimecast.alerts.silence;

import org.jspecify.annotations.NullMarked;
