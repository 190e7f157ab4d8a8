/** The database: schema, what writes it inside a transaction, and what the pages read from it. PostgreSQL only. */
@NullMarked
package dev.rimecast.alerts.store;

import org.jspecify.annotations.NullMarked;
