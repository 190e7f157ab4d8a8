/** dashboard. */
@NullMarked
package dev.rimecast.dashboard;

import org.jspecify.annotations.NullMarked;
