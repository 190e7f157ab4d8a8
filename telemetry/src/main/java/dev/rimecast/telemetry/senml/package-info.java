/** SenML JSON and CBOR (RFC 8428, RFC 8798, RFC 9100) to readings and back. */
@NullMarked
package dev.rimecast.telemetry.senml;

import org.jspecify.annotations.NullMarked;
