/** Files from which monitors and what they have decided go on. */
@NullMarked
package dev.rimecast.history.state;

import org.jspecify.annotations.NullMarked;
