/** How good detection was: alerts held against the truth. Reads and decides nothing else. Start at {@code Scoring}. */
@NullMarked
package dev.rimecast.analytics.score;

import org.jspecify.annotations.NullMarked;
