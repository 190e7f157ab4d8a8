/** Whether a new or moved machine is accepted: what detection says of its first cycles, beside others of its model group. */
@NullMarked
package dev.rimecast.alerts.acceptance;

import org.jspecify.annotations.NullMarked;
