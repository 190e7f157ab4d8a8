/** Visits: from what needs an engineer to who goes where and when; start at {@code VisitDesk}. */
@NullMarked
package dev.rimecast.alerts.visits;

import org.jspecify.annotations.NullMarked;
