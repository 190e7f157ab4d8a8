/**
 * Faults done to the whole product under load, and the sums afterwards. Start at {@code FaultsIT}; what is promised and
 * what was measured is in docs/reliability.md.
 */
@NullMarked
package dev.rimecast.app.faults;

import org.jspecify.annotations.NullMarked;
