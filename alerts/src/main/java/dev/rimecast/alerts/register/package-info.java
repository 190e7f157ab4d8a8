/** Register, policy and events into the sites' logs, through an outbox in the same transaction. */
@NullMarked
package dev.rimecast.alerts.register;

import org.jspecify.annotations.NullMarked;
