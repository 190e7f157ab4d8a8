/** Everything of one machine in one file, and back: {@link dev.rimecast.app.backup.Backup}, {@link dev.rimecast.app.backup.Restore}. */
@NullMarked
package dev.rimecast.app.backup;

import org.jspecify.annotations.NullMarked;
