/** By what a gateway shows that it is itself, as the topic {@code credentials} has it. */
@NullMarked
package dev.rimecast.telemetry.gateway;

import org.jspecify.annotations.NullMarked;
