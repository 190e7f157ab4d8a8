/** What can be typed after {@code ./rimecast}. */
@NullMarked
package dev.rimecast.app.command;

import org.jspecify.annotations.NullMarked;
