/** Plain statistics: run lengths, trend tests, robust slopes. */
@NullMarked
package dev.rimecast.analytics.statistics;

import org.jspecify.annotations.NullMarked;
