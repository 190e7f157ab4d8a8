/** How far each gateway's packs are stored for good, as analytics says, and who is to be told. */
@NullMarked
package dev.rimecast.ingest.ack;

import org.jspecify.annotations.NullMarked;
