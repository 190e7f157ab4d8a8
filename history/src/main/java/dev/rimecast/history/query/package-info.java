/** Questions to the history. */
@NullMarked
package dev.rimecast.history.query;

import org.jspecify.annotations.NullMarked;
