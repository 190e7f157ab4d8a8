/** The database that reads and writes the files; it keeps nothing of its own. */
@NullMarked
package dev.rimecast.history.duck;

import org.jspecify.annotations.NullMarked;
