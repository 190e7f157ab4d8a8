/** analytics. */
@NullMarked
package dev.rimecast.analytics;

import org.jspecify.annotations.NullMarked;
