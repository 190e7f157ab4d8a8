/** The parts of the product under load, beside ceilings that are measured in the same run: {@code ./rimecast bench}. */
@NullMarked
package dev.rimecast.benchmarks.load;

import org.jspecify.annotations.NullMarked;
