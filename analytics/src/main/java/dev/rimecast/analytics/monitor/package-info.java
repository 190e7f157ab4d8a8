/** The core that turns a site's log into cycles and findings. It reads no clock, no network and no file. */
@NullMarked
package dev.rimecast.analytics.monitor;

import org.jspecify.annotations.NullMarked;
