/** What other numbers would have made of the last months, at once: a site after the other, from cycles. */
@NullMarked
package dev.rimecast.history.effect;

import org.jspecify.annotations.NullMarked;
