/** Long recordings, read row by row: telemetry logs and captures of MQTT traffic. */
@NullMarked
package dev.rimecast.telemetry.file.log;

import org.jspecify.annotations.NullMarked;
