/** Whom to tell what, and when: the rules, pure, and the file that they are read from. */
@NullMarked
package dev.rimecast.alerts.notice;

import org.jspecify.annotations.NullMarked;
