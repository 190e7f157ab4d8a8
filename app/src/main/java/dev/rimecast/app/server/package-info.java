/** The product in one process: engines and stages, started and stopped in order. */
@NullMarked
package dev.rimecast.app.server;

import org.jspecify.annotations.NullMarked;
