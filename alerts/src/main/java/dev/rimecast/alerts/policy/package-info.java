/** Policies of detection: which was in force when, who put it into force and why, and those that are on trial. */
@NullMarked
package dev.rimecast.alerts.policy;

import org.jspecify.annotations.NullMarked;
