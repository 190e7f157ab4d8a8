package dev.rimecast.history.query;

import java.io.IOException;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Takes what a question answers, row by row. */
public interface Answer {
    /** Names of the columns, once, before the first row. */
    void columns(List<String> names) throws IOException;

    /**
     * The next row.
     *
     * @param cells a {@link Number}, {@link Boolean} or {@link String}; a time is a text, ISO 8601 with Z; null where there is
     *     nothing
     */
    void row(List<@Nullable Object> cells) throws IOException;

    /** There are no more rows. */
    void end() throws IOException;
}
