/** Who makes a request, and whether they may: the only way from a request to the fleet. Start at {@code Gate}. */
@NullMarked
package dev.rimecast.dashboard.access;

import org.jspecify.annotations.NullMarked;
