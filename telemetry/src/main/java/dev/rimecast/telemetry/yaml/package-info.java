/** Strict reading of YAML settings: every problem of a file in one go, each with its path and line. */
@NullMarked
package dev.rimecast.telemetry.yaml;

import org.jspecify.annotations.NullMarked;
