/** What the pages read and what people do, independent of how it is stored. */
@NullMarked
package dev.rimecast.alerts.view;

import org.jspecify.annotations.NullMarked;
