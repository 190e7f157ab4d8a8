/** Which trips meet every date, as pure functions: no clock, no database. */
@NullMarked
package dev.rimecast.alerts.visits.plan;

import org.jspecify.annotations.NullMarked;
