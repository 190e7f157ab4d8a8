/** How the history says that something is wrong. */
@NullMarked
package dev.rimecast.history.failure;

import org.jspecify.annotations.NullMarked;
