/** How urgent an alert is: rules as data, and their decision with its reason; pure. */
@NullMarked
package dev.rimecast.alerts.priority;

import org.jspecify.annotations.NullMarked;
