/** The life of an alert, advice, and what the pages read: start with {@link dev.rimecast.alerts.AlertsStage}. */
@NullMarked
package dev.rimecast.alerts;

import org.jspecify.annotations.NullMarked;
