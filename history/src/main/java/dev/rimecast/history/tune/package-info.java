/** Other numbers tried on the past, and which of them would have cost least. */
@NullMarked
package dev.rimecast.history.tune;

import org.jspecify.annotations.NullMarked;
