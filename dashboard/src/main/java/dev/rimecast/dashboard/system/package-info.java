/** What whoever runs the product asks of it. */
@NullMarked
package dev.rimecast.dashboard.system;

import org.jspecify.annotations.NullMarked;
