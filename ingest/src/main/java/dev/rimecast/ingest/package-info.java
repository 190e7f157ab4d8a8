/** ingest. */
@NullMarked
package dev.rimecast.ingest;

import org.jspecify.annotations.NullMarked;
