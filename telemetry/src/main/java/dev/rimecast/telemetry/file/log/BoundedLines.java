package dev.rimecast.telemetry.file.log;

import java.io.Closeable;
import java.io.IOException;
import java.io.Reader;
import java.util.Optional;

/** Lines of a text, of which none takes more memory than it may. */
final class BoundedLines implements Closeable {
    private final Reader reader;
    private final int longest;
    private long line;

    /**
     * @param reader buffered
     * @param longest characters of a line that are kept; what is beyond is left out
     */
    BoundedLines(Reader reader, int longest) {
        this.reader = reader;
        this.longest = longest;
    }

    /** One line without its end. */
    record Line(long number, String text, boolean cut) {}

    /** The next line; empty at the end. */
    Optional<Line> next() throws IOException {
        StringBuilder text = new StringBuilder(256);
        boolean cut = false;
        boolean any = false;
        for (int c = reader.read(); c >= 0; c = reader.read()) {
            any = true;
            if (c == '\n') {
                break;
            }
            if (text.length() < longest) {
                text.append((char) c);
            } else {
                cut = true;
            }
        }
        if (!any) {
            return Optional.empty();
        }
        line++;
        return Optional.of(new Line(line, text.toString(), cut));
    }

    @Override
    public void close() throws IOException {
        reader.close();
    }
}
