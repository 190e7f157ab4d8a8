/** What was read, decided and found out, kept as files that anybody can read. */
@NullMarked
package dev.rimecast.history;

import org.jspecify.annotations.NullMarked;
