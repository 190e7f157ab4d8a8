/** RFC 4180 tables: cells, typed rows, what is wrong with them, and the texts of numbers and times. */
@NullMarked
package dev.rimecast.telemetry.file.csv;

import org.jspecify.annotations.NullMarked;
