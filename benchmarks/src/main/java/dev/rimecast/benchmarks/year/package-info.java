/**
 * A year of a simulated fleet whose people act on what is found, for the figures of alarm management. Start at {@code AlarmYear};
 * {@code NoticeYear} has a server, too.
 */
@NullMarked
package dev.rimecast.benchmarks.year;

import org.jspecify.annotations.NullMarked;
