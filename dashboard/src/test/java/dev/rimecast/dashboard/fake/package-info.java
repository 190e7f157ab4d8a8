/** A fleet of an invented firm in memory, behind the interfaces that the dashboard reads. */
@NullMarked
package dev.rimecast.dashboard.fake;

import org.jspecify.annotations.NullMarked;
