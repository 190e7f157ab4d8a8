/** The monitors on Kafka Streams: the sites' logs in, cycles and findings out, each exactly once. */
@NullMarked
package dev.rimecast.analytics.stream;

import org.jspecify.annotations.NullMarked;
