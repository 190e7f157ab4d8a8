/** Has it changed? Cumulative sums with limits computed from a false-alarm rate, robust slopes and trend tests. */
@NullMarked
package dev.rimecast.analytics.drift;

import org.jspecify.annotations.NullMarked;
