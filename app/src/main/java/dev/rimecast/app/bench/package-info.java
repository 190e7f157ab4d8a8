/** The analyst's bench: joins policies (database), detection and the history for the page of thresholds. */
@NullMarked
package dev.rimecast.app.bench;

import org.jspecify.annotations.NullMarked;
