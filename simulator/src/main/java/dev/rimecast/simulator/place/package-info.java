/** What surrounds a machine: weather, room, mains water, what people take from the bin. */
@NullMarked
package dev.rimecast.simulator.place;

import org.jspecify.annotations.NullMarked;
