/** What decoding, deciding and keeping cost, measured with JMH on simulated machines. */
@NullMarked
package dev.rimecast.benchmarks;

import org.jspecify.annotations.NullMarked;
