/** The tables of the history: which columns they have, and how records become rows. */
@NullMarked
package dev.rimecast.history.table;

import org.jspecify.annotations.NullMarked;
