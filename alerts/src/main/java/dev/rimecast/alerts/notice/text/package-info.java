/** Notices in words: one content, shown as plain text, as HTML and as a CloudEvent. */
@NullMarked
package dev.rimecast.alerts.notice.text;

import org.jspecify.annotations.NullMarked;
