/** The firm's own books of rules: kept with every version, checked before they are saved, in force without a restart. */
@NullMarked
package dev.rimecast.alerts.rules;

import org.jspecify.annotations.NullMarked;
