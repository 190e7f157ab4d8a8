/** {@code engineers.csv} and {@code parts.csv}. */
@NullMarked
package dev.rimecast.alerts.visits.file;

import org.jspecify.annotations.NullMarked;
