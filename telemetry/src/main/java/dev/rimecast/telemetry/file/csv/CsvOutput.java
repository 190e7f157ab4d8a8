package dev.rimecast.telemetry.file.csv;

import java.io.BufferedWriter;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;

/**
 * Writes RFC 4180 in UTF-8, with lines that end in LF so that the bytes are the same on every platform. A cell stands in
 * quotes only where it must.
 */
public final class CsvOutput implements Closeable {
    private final Writer writer;
    private final int columns;

    /** Makes the file, compressed as its name says, and writes the header. */
    public CsvOutput(Path file, List<String> header) throws IOException {
        this(new OutputStreamWriter(DataFiles.create(file), StandardCharsets.UTF_8), header);
    }

    /** Writes the header to somewhere else than a file. */
    public CsvOutput(Writer writer, List<String> header) throws IOException {
        this.writer = new BufferedWriter(writer, 1 << 16);
        this.columns = header.size();
        row(header);
    }

    /** @throws IllegalArgumentException if there are not as many cells as columns */
    public void row(List<String> cells) throws IOException {
        if (cells.size() != columns) {
            throw new IllegalArgumentException("a row of " + cells.size() + " cells in a table of " + columns);
        }
        for (int i = 0; i < columns; i++) {
            if (i > 0) {
                writer.write(',');
            }
            cell(cells.get(i));
        }
        writer.write('\n');
    }

    private void cell(String text) throws IOException {
        if (isPlain(text)) {
            writer.write(text);
            return;
        }
        writer.write('"');
        writer.write(text.replace("\"", "\"\""));
        writer.write('"');
    }

    private static boolean isPlain(String text) {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == ',' || c == '"' || c == '\n' || c == '\r') {
                return false;
            }
        }
        return true;
    }

    @Override
    public void close() throws IOException {
        writer.close();
    }
}
