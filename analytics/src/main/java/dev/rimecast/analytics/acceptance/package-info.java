/** Whether a new or moved machine does in its first cycles what its kind does in these conditions, and what its rating allows. */
@NullMarked
package dev.rimecast.analytics.acceptance;

import org.jspecify.annotations.NullMarked;
