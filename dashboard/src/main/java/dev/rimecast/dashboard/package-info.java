/** The web side: REST, live updates and the pages. Start at {@link dev.rimecast.dashboard.DashboardStage}. */
@NullMarked
package dev.rimecast.dashboard;

import org.jspecify.annotations.NullMarked;
