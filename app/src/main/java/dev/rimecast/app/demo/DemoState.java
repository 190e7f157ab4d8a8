package dev.rimecast.app.demo;

import java.io.IOException;
import java.io.Reader;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Optional;
import java.util.Properties;

/**
 * What a demonstration has to know to go on where it stopped.
 *
 * @param from where its fleet's life began
 * @param presentAtStart the wall clock's present when it was first started: the plan's faults are placed before it
 * @param reached everything before has its receipts
 */
record DemoState(Instant from, Instant presentAtStart, Instant reached) {

    static Optional<DemoState> read(Path file) throws IOException {
        if (!Files.exists(file)) {
            return Optional.empty();
        }
        Properties properties = new Properties();
        try (Reader reader = Files.newBufferedReader(file)) {
            properties.load(reader);
        }
        try {
            return Optional.of(new DemoState(
                    Instant.parse(properties.getProperty("from", "")),
                    Instant.parse(properties.getProperty("present-at-start", "")),
                    Instant.parse(properties.getProperty("reached", ""))));
        } catch (DateTimeParseException e) {
            throw new IOException(file + " is damaged: start over with --fresh", e);
        }
    }

    /** Written beside and moved over, so that a kill leaves the old or the new one. */
    void write(Path file) throws IOException {
        Properties properties = new Properties();
        properties.setProperty("from", from.toString());
        properties.setProperty("present-at-start", presentAtStart.toString());
        properties.setProperty("reached", reached.toString());
        Path next = file.resolveSibling(file.getFileName() + ".next");
        try (Writer writer = Files.newBufferedWriter(next)) {
            properties.store(writer, "where the demonstration stopped");
        }
        Files.move(next, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    }

    DemoState withReached(Instant now) {
        return new DemoState(from, presentAtStart, now);
    }
}
