/**
 * Who may come in, what they may do, and which sites they see: accounts, sessions, API tokens, roles. Start at {@link
 * dev.rimecast.alerts.people.People}.
 */
@NullMarked
package dev.rimecast.alerts.people;

import org.jspecify.annotations.NullMarked;
