/** Recordings decided anew: files in, the same core as the live stream, files out. */
@NullMarked
package dev.rimecast.analytics.replay;

import org.jspecify.annotations.NullMarked;
