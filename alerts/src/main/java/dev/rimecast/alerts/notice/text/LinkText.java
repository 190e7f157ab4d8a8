package dev.rimecast.alerts.notice.text;

import dev.rimecast.alerts.notice.text.Content.Line;
import dev.rimecast.alerts.notice.text.Content.Section;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.util.List;
import java.util.Map;

/** What a site reads that is asked for a check. It asks; it never says that something is broken. */
public final class LinkText {
    private static final String PAGE = "/site-check";

    private LinkText() {}

    /**
     * The mail without the secret of its link.
     *
     * @param base where the pages are
     */
    public static Content of(String base, String machine, Site site, String askedBy, Instant now, Instant endsAt) {
        return new Content(
                now,
                "Please look at the ice machine " + machine + ", " + site.name(),
                "Please do a short check of the ice machine " + machine + " (" + site.name()
                        + "). The page below asks one"
                        + " thing at a time. Each takes a few minutes and needs no tool and no account. Please open no cover"
                        + " that is screwed on.",
                List.of(new Section(
                        "",
                        List.of(
                                new Line("Asked by", askedBy),
                                new Line("The link works until", Words.when(endsAt, site.timeZone()))))),
                base + PAGE,
                Map.of("kind", "link", "machine", machine, "site", site.id()));
    }
}
