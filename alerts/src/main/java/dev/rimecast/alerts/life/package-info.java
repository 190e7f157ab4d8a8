/** The life of an alert as pure functions: no clock, no database, no Kafka. */
@NullMarked
package dev.rimecast.alerts.life;

import org.jspecify.annotations.NullMarked;
