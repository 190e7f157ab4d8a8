/** What changes without anybody doing anything: shelves that end, circumstances that begin and end. */
@NullMarked
package dev.rimecast.alerts.keep;

import org.jspecify.annotations.NullMarked;
