/** The outbox of notices: events to matters, matters to notices, notices on their way, each step in one transaction. */
@NullMarked
package dev.rimecast.alerts.notice.outbox;

import org.jspecify.annotations.NullMarked;
