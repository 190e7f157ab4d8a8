/** The resources below {@code /api/v1}, as {@code docs/openapi.yaml} describes them. */
@NullMarked
package dev.rimecast.dashboard.api;

import org.jspecify.annotations.NullMarked;
