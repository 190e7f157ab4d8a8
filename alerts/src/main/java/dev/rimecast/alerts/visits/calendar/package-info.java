/** Visits for calendar programs (RFC 5545), by secret links. */
@NullMarked
package dev.rimecast.alerts.visits.calendar;

import org.jspecify.annotations.NullMarked;
