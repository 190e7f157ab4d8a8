/** Small files that are read whole: register, sites, events, weather, truth. */
@NullMarked
package dev.rimecast.telemetry.file;

import org.jspecify.annotations.NullMarked;
