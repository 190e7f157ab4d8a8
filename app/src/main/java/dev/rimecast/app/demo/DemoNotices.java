package dev.rimecast.app.demo;

import dev.rimecast.alerts.notice.NoticeBook;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

/** Who is told of what in the demonstration: receivers whose notices are kept and shown, and sent nowhere. */
final class DemoNotices {
    private DemoNotices() {}

    /** @param port of the pages, for the links; where any free one is taken, they lead to the usual one */
    static NoticeBook book(int port) {
        try (InputStream in = DemoNotices.class.getResourceAsStream("notices.yaml")) {
            if (in == null) {
                throw new IllegalStateException("notices.yaml is not on the class path");
            }
            String routes = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            String link = port == 0 ? "" : "link: http://localhost:" + port + '\n';
            return NoticeBook.parse("notices.yaml", link + routes, Path.of(""));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
