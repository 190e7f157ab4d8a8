/** Backups, put back and gone on with. */
@NullMarked
package dev.rimecast.app.backup;

import org.jspecify.annotations.NullMarked;
