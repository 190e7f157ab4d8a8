/** simulator. */
@NullMarked
package dev.rimecast.simulator;

import org.jspecify.annotations.NullMarked;
