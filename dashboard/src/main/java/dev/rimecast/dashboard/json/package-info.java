/**
 * What the REST API sends, as records whose names are the names on the wire. Kept apart from the views so that a change
 * inside the product never changes the API by accident.
 */
@NullMarked
package dev.rimecast.dashboard.json;

import org.jspecify.annotations.NullMarked;
