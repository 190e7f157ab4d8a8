/** Where the engines say what they do. */
@NullMarked
package dev.rimecast.app.logging;

import org.jspecify.annotations.NullMarked;
