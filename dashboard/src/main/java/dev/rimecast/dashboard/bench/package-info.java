/** What an analyst asks of detection's thresholds: how they are, what others would have done, and which are tried. */
@NullMarked
package dev.rimecast.dashboard.bench;

import org.jspecify.annotations.NullMarked;
