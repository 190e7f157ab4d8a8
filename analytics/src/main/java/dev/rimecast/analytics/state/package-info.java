/** The bytes in which a monitor's memory is kept between records: tagged, versioned, exact. */
@NullMarked
package dev.rimecast.analytics.state;

import org.jspecify.annotations.NullMarked;
