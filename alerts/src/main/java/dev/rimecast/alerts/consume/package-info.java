/** Kafka's topics into the database: the offset moves in the transaction of what it covers. */
@NullMarked
package dev.rimecast.alerts.consume;

import org.jspecify.annotations.NullMarked;
