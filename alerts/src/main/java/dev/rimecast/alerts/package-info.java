/** alerts. */
@NullMarked
package dev.rimecast.alerts;

import org.jspecify.annotations.NullMarked;
