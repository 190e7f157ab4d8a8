/** When a site runs out of ice, as pure functions: no clock, no database. */
@NullMarked
package dev.rimecast.alerts.ice;

import org.jspecify.annotations.NullMarked;
