/** Every threshold, with its unit and default: the only place of numbers that a service manager may want to change. */
@NullMarked
package dev.rimecast.analytics.policy;

import org.jspecify.annotations.NullMarked;
