/** The command line and the all-in-one server. */
@NullMarked
package dev.rimecast.app;

import org.jspecify.annotations.NullMarked;
