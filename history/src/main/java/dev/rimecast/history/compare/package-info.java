/** What two policies made of the same log, laid beside each other. */
@NullMarked
package dev.rimecast.history.compare;

import org.jspecify.annotations.NullMarked;
