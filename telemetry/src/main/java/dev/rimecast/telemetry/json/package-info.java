/** JSON records between our own stages: fields in snake case, absent ones left out, unknown ones ignored. */
@NullMarked
package dev.rimecast.telemetry.json;

import org.jspecify.annotations.NullMarked;
