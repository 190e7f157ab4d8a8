/** The pages in a real browser. */
@NullMarked
package dev.rimecast.dashboard.browser;

import org.jspecify.annotations.NullMarked;
