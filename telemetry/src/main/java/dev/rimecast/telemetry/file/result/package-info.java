/** What a replay writes: cycles, alerts, how they developed, and what was not understood. */
@NullMarked
package dev.rimecast.telemetry.file.result;

import org.jspecify.annotations.NullMarked;
