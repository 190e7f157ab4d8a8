/** What analytics says: conditions, causes, and the findings that carry them. */
@NullMarked
package dev.rimecast.telemetry.finding;

import org.jspecify.annotations.NullMarked;
