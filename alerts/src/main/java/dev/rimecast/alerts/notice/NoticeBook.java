package dev.rimecast.alerts.notice;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * {@code notices.yaml}: who is told of what, when and how.
 *
 * @param link where the pages are, as receivers reach them; without a slash at the end
 * @param planningHorizon a slow fault is watched quietly until its date is within this
 * @param iceAtRisk a site is at risk when its ice lasts no longer than this
 * @param quiet a site gets one notice that needs action in this time, unless its ice is at risk
 * @param receivers by name
 */
public record NoticeBook(
        String link,
        Duration planningHorizon,
        Duration iceAtRisk,
        Duration quiet,
        Optional<MailServer> mail,
        boolean allowsPrivateAddresses,
        Map<String, Receiver> receivers,
        List<Route> routes,
        List<DigestPlan> digests) {

    /** Tells nobody. */
    public static final NoticeBook NONE = new NoticeBook(
            "http://localhost:8080",
            Duration.ofDays(14),
            Duration.ofDays(1),
            Duration.ofDays(7),
            Optional.empty(),
            false,
            Map.of(),
            List.of(),
            List.of());

    public NoticeBook {
        receivers = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(receivers));
        routes = List.copyOf(routes);
        digests = List.copyOf(digests);
    }

    public Optional<Receiver> receiver(String name) {
        return Optional.ofNullable(receivers.get(name));
    }

    /**
     * @throws IOException if the file can't be read
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static NoticeBook read(Path file) throws IOException {
        return NoticeBookReader.read(file);
    }

    /**
     * @param source what problems call the text
     * @param base what paths of secrets are relative to
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static NoticeBook parse(String source, String yaml, Path base) {
        return NoticeBookReader.parse(source, yaml, base);
    }
}
