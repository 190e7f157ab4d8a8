/** Whether recorded work has held, judged from the machine's own cycles: right away, and again after days. */
@NullMarked
package dev.rimecast.analytics.proof;

import org.jspecify.annotations.NullMarked;
