/** The files: batches, days, and the manifest that says which of them are the history. */
@NullMarked
package dev.rimecast.history.store;

import org.jspecify.annotations.NullMarked;
