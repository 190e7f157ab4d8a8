package dev.rimecast.analytics.replay;

import dev.rimecast.telemetry.file.log.RejectedLine;
import java.io.Closeable;
import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** Rows of a recording, one after the other. */
interface RowSource extends Closeable {
    /** The next row, empty at the end. */
    Optional<Row> next() throws IOException;

    /** What was not understood so far, in the order of the files and their lines. */
    List<RejectedLine> rejects();
}
