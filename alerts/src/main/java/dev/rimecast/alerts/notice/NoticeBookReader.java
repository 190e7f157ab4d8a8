package dev.rimecast.alerts.notice;

import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.io.IOException;
import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Pattern;

/** Reads {@code notices.yaml} strictly; everything that is wrong is noted at its line. */
final class NoticeBookReader {
    private static final YamlType<String> TEXT = YamlType.text();
    private static final Duration MINUTE = Duration.ofMinutes(1);
    private static final Pattern NAME = Pattern.compile("[a-z0-9][a-z0-9-]{0,39}");
    private static final Pattern ADDRESS = Pattern.compile("[^@\\s<>,;]+@[^@\\s<>,;]+");

    private final Path base;
    private final Set<String> known = new HashSet<>();

    private NoticeBookReader(Path base) {
        this.base = base;
    }

    static NoticeBook read(Path file) throws IOException {
        Path base = Optional.ofNullable(file.toAbsolutePath().getParent()).orElse(Path.of(""));
        return parse(file.toString(), Yaml.text(file), base);
    }

    static NoticeBook parse(String source, String yaml, Path base) {
        return Yaml.read(source, yaml, document -> new NoticeBookReader(base).book(document));
    }

    private NoticeBook book(YamlMap document) {
        NoticeBook standard = NoticeBook.NONE;
        Optional<MailServer> mail = document.optionalMap("mail").map(this::mail);
        boolean allowsPrivate = document.map("webhook").bool("private-addresses", false);
        Map<String, Receiver> receivers = new LinkedHashMap<>();
        document.maps("receivers").forEach((name, entry) -> {
            checkName(entry, name);
            known.add(name);
            receivers.put(name, receiver(name, entry, mail.isPresent(), allowsPrivate));
        });
        List<Route> routes =
                document.mapList("routes").stream().map(this::route).toList();
        List<DigestPlan> digests =
                document.mapList("digests").stream().map(this::digest).toList();
        checkTwice(document, "routes", routes.stream().map(Route::name).toList());
        checkTwice(document, "digests", digests.stream().map(DigestPlan::name).toList());
        return new NoticeBook(
                link(document, standard),
                document.duration("planning-horizon", MINUTE, Duration.ofDays(90), standard.planningHorizon()),
                document.duration("ice-at-risk", MINUTE, Duration.ofDays(7), standard.iceAtRisk()),
                document.duration("quiet", MINUTE, Duration.ofDays(90), standard.quiet()),
                mail,
                allowsPrivate,
                receivers,
                routes,
                digests);
    }

    private static String link(YamlMap document, NoticeBook standard) {
        String link = document.string("link", standard.link());
        if (!link.startsWith("https://") && !link.startsWith("http://")) {
            document.problem("link", "must begin with https:// or http://, found " + link);
        }
        return link.endsWith("/") ? link.substring(0, link.length() - 1) : link;
    }

    private MailServer mail(YamlMap entry) {
        String host = entry.string("host");
        MailServer.Security security = entry.oneOf(
                "security", MailServer.Security.class, MailServer.Security::code, MailServer.Security.STARTTLS);
        Optional<String> user = entry.optionalString("user");
        Optional<String> password =
                entry.optionalString("password-file").map(file -> secret(entry, "password-file", file));
        if (user.isPresent() != password.isPresent()) {
            entry.problem("user and password-file belong together: give both or none");
        }
        if (security == MailServer.Security.NONE && !isThisMachine(host)) {
            entry.problem(
                    "security",
                    "must be starttls or tls: " + host + " is another machine, and mail would cross the"
                            + " network for all to read");
        }
        String from = entry.string("from");
        checkAddress(entry, "from", from);
        return new MailServer(
                host,
                entry.integer("port", 1, 65_535, security == MailServer.Security.TLS ? 465 : 587),
                security,
                user.map(name -> new MailServer.Login(name, password.orElse(""))),
                from);
    }

    private static boolean isThisMachine(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException unknownNow) {
            return false;
        }
    }

    private Receiver receiver(String name, YamlMap entry, boolean hasMail, boolean allowsPrivate) {
        Optional<String> mail = entry.optionalString("mail");
        Optional<String> webhook = entry.optionalString("webhook");
        boolean outboxOnly = entry.bool("outbox-only", false);
        int ways = (mail.isPresent() ? 1 : 0) + (webhook.isPresent() ? 1 : 0) + (outboxOnly ? 1 : 0);
        if (ways != 1) {
            entry.problem("must have exactly one of mail, webhook and outbox-only: true");
        }
        List<String> secretFiles = entry.list("secret-files", TEXT);
        Channel channel = new Channel.OutboxOnly();
        if (mail.isPresent()) {
            checkAddress(entry, "mail", mail.get());
            if (!hasMail) {
                entry.problem("mail", "needs the server that takes our mail: give the section mail");
            }
            channel = new Channel.Mail(mail.get());
        } else if (webhook.isPresent()) {
            channel = webhook(entry, webhook.get(), secretFiles, allowsPrivate).orElse(channel);
        }
        if (webhook.isEmpty() && !secretFiles.isEmpty()) {
            entry.problem("secret-files", "are for a webhook only");
        }
        return new Receiver(name, channel, HoursReader.hours(entry));
    }

    private Optional<Channel> webhook(YamlMap entry, String url, List<String> secretFiles, boolean allowsPrivate) {
        if (secretFiles.isEmpty() || secretFiles.size() > 2) {
            entry.problem("secret-files", "must name one file with a secret (whsec_…), or two while it changes");
        }
        List<WebhookSecret> secrets = new ArrayList<>();
        for (String file : secretFiles) {
            try {
                secrets.add(WebhookSecret.parse(secret(entry, "secret-files", file)));
            } catch (IllegalArgumentException e) {
                entry.problem("secret-files", file + ' ' + e.getMessage());
            }
        }
        Optional<String> wrong = WebhookUrl.wrong(url, allowsPrivate);
        wrong.ifPresent(what -> entry.problem("webhook", what));
        return wrong.isPresent() || secrets.isEmpty() || secrets.size() > 2
                ? Optional.empty()
                : Optional.of(new Channel.Webhook(URI.create(url), secrets));
    }

    private Route route(YamlMap entry) {
        String name = entry.string("name");
        checkName(entry, name);
        List<Route.Step> steps = new ArrayList<>();
        for (YamlMap step : entry.mapList("steps")) {
            boolean isFirst = steps.isEmpty();
            Duration after = isFirst ? Duration.ZERO : step.duration("unacknowledged-for", MINUTE, Duration.ofDays(7));
            if (isFirst && step.has("unacknowledged-for")) {
                step.problem(
                        "unacknowledged-for", "is for the second step and those after it: the first is told at once");
            }
            steps.add(new Route.Step(after, receivers(step)));
        }
        if (steps.isEmpty()) {
            entry.problem("steps", "is empty: give at least one step with its receivers");
            steps.add(new Route.Step(Duration.ZERO, List.of()));
        }
        return new Route(
                name,
                new HashSet<>(entry.list("sites", TEXT)),
                set(entry, "priorities", Priority.class, Priority::code),
                set(entry, "kinds", Trouble.class, Trouble::code),
                entry.bool("tell-end", true),
                steps);
    }

    private DigestPlan digest(YamlMap entry) {
        String name = entry.string("name");
        checkName(entry, name);
        String zoneName = entry.string("zone");
        LocalTime at = LocalTime.MIDNIGHT;
        String text = entry.string("at");
        try {
            at = LocalTime.parse(text);
        } catch (DateTimeParseException e) {
            entry.problem("at", "must be a local time such as 06:30, in quotes, found " + text);
        }
        return new DigestPlan(
                name,
                receivers(entry),
                at,
                HoursReader.zone(entry, zoneName).orElse(ZoneId.of("UTC")),
                new HashSet<>(entry.list("sites", TEXT)));
    }

    private List<String> receivers(YamlMap entry) {
        List<String> names = entry.list("to", TEXT);
        if (names.isEmpty()) {
            entry.problem("to", "is empty: name at least one receiver");
        }
        names.stream()
                .filter(name -> !known.contains(name))
                .forEach(name -> entry.problem("to", "names " + name + ", which is not under receivers"));
        return names.stream().distinct().toList();
    }

    private static <E extends Enum<E>> Set<E> set(YamlMap map, String key, Class<E> type, Function<E, String> word) {
        Set<E> values = EnumSet.noneOf(type);
        values.addAll(map.list(key, YamlType.oneOf(type, word)));
        return values;
    }

    private static void checkName(YamlMap entry, String name) {
        if (!NAME.matcher(name).matches()) {
            entry.problem("has a name that is not of small letters, digits and hyphens, at most 40: " + name);
        }
    }

    private static void checkAddress(YamlMap entry, String key, String address) {
        if (!ADDRESS.matcher(address).matches()) {
            entry.problem(key, "must be one mail address such as desk@firm.example, found " + address);
        }
    }

    private static void checkTwice(YamlMap document, String key, List<String> names) {
        Set<String> seen = new HashSet<>();
        names.stream().filter(name -> !seen.add(name)).forEach(name -> document.problem(key, "has " + name + " twice"));
    }

    private String secret(YamlMap entry, String key, String file) {
        try {
            return Files.readString(base.resolve(file)).strip();
        } catch (IOException e) {
            entry.problem(key, "names a file that can't be read: " + base.resolve(file));
            return "";
        }
    }
}
