/** Planned care: when it is due, by the intervals of the register. Reminders, never faults. */
@NullMarked
package dev.rimecast.analytics.care;

import org.jspecify.annotations.NullMarked;
