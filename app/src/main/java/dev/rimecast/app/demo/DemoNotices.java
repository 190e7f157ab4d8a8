package dev.rimecast.app.demo;

import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.telemetry.yaml.Yaml;
import java.nio.file.Path;

/** Who is told of what in the demonstration: receivers whose notices are kept and shown, and sent nowhere. */
final class DemoNotices {
    private DemoNotices() {}

    /** @param port of the pages, for the links; where any free one is taken, they lead to the usual one */
    static NoticeBook book(int port) {
        String routes = Yaml.text(DemoNotices.class, "notices.yaml");
        String link = port == 0 ? "" : "link: http://localhost:" + port + '\n';
        return NoticeBook.parse("notices.yaml", link + routes, Path.of(""));
    }
}
