/** Asking people: answers into the site's log, and the links by which a site answers without an account. */
@NullMarked
package dev.rimecast.alerts.inquiry;

import org.jspecify.annotations.NullMarked;
