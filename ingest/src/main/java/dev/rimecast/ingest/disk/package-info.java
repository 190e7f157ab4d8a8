/** Stops the intake before a disk is full: {@link dev.rimecast.ingest.disk.DiskGuard}. */
@NullMarked
package dev.rimecast.ingest.disk;

import org.jspecify.annotations.NullMarked;
