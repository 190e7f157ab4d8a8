/** What one machine should do in the conditions of the moment, learned from its own healthy cycles. */
@NullMarked
package dev.rimecast.analytics.expect;

import org.jspecify.annotations.NullMarked;
