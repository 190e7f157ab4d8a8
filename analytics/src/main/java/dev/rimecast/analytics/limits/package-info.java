/** What must be said at once: limits, silence, sensors that cannot be right, and states that last too long. */
@NullMarked
package dev.rimecast.analytics.limits;

import org.jspecify.annotations.NullMarked;
