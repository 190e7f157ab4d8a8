/** engines. */
@NullMarked
package dev.rimecast.engines;

import org.jspecify.annotations.NullMarked;
