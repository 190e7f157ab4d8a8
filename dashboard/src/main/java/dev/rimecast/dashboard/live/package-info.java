/** Live updates over server-sent events: bounded everywhere, so that a slow screen costs nobody else anything. */
@NullMarked
package dev.rimecast.dashboard.live;

import org.jspecify.annotations.NullMarked;
