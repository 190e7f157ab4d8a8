/** Recommendations as data: what to check, in which order, with what, by when. */
@NullMarked
package dev.rimecast.alerts.advice;

import org.jspecify.annotations.NullMarked;
