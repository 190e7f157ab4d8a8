/** What was found and done at a machine: the record of work, its rules, and what it says to the site's log. Pure. */
@NullMarked
package dev.rimecast.alerts.work;

import org.jspecify.annotations.NullMarked;
