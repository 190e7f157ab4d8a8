/** The findings that are open, and what of them is worth saying again. */
@NullMarked
package dev.rimecast.analytics.finding;

import org.jspecify.annotations.NullMarked;
