/** What to ask people about a finding, and what their answers say of its cause. */
@NullMarked
package dev.rimecast.analytics.question;

import org.jspecify.annotations.NullMarked;
