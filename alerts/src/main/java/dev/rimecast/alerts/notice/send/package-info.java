/** Notices on their way out: mail, webhook, or kept here. */
@NullMarked
package dev.rimecast.alerts.notice.send;

import org.jspecify.annotations.NullMarked;
