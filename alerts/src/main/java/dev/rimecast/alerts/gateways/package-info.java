/** The keys of gateways: who gave which, and until when they hold. {@link dev.rimecast.alerts.gateways.GatewayDesk} first. */
@NullMarked
package dev.rimecast.alerts.gateways;

import org.jspecify.annotations.NullMarked;
