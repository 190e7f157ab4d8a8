/** Which alerts are one problem, as pure functions: no clock, no database, no Kafka. */
@NullMarked
package dev.rimecast.alerts.cases;

import org.jspecify.annotations.NullMarked;
