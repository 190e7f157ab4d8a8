/** The files that go in and out: telemetry logs, register, sites, events, captures, results. */
@NullMarked
package dev.rimecast.telemetry.file;

import org.jspecify.annotations.NullMarked;
