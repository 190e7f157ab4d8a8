package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.URLEncoder;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Gives keys to gateways, and takes them back, at once. */
@Command(
        name = "gateway",
        mixinStandardHelpOptions = true,
        description = {
            "Gives gateways the keys by which they connect over TLS, and takes them back, while the server runs.",
            "A gateway shows a secret as the password of its connection, with its own name as the user; or a client certificate, whose"
                    + " private key never leaves it. As soon as it has a key, nothing else lets it in, from wherever it comes: not even a broker, unless"
                    + " mqtt-broker.trusts-topics says that this one looks at who publishes.",
            "Needs an API token (page \"API tokens\") of an administrator who sees every site, in the environment as "
                    + ServerOptions.TOKEN + " or in a file."
        },
        footer = ExitCode.FOOTER)
final class GatewayCommand {
    @Mixin
    ServerOptions server;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    GatewayCommand() {
        this(new ServerOptions());
    }

    GatewayCommand(ServerOptions server) {
        this.server = server;
    }

    @Command(
            name = "list",
            mixinStandardHelpOptions = true,
            description = "Every key that there was: gateway, kind, since when and by whom, until when.")
    int list() throws IOException, InterruptedException {
        PrintWriter out = Output.of(spec);
        JsonNode keys = answered(server.get("/api/v1/gateway-credentials"));
        keys.forEach(key -> out.println(line(key)));
        out.println(keys.size() + (keys.size() == 1 ? " key" : " keys"));
        out.flush();
        return ExitCode.OK;
    }

    @Command(
            name = "add",
            mixinStandardHelpOptions = true,
            description =
                    "Gives a gateway one more key: a secret, which is printed this once; or the certificate that it has made itself.")
    int add(
            @Parameters(paramLabel = "GATEWAY", description = "Its name, as in its topics.") String gateway,
            @Option(
                            names = "--certificate",
                            paramLabel = "FILE",
                            description = "The gateway's own certificate in PEM; nobody needs to have signed it.")
                    Path certificate)
            throws IOException, InterruptedException {
        JsonNode made = made(post(gateway, "", body(certificate)));
        PrintWriter out = Output.of(spec);
        tell(out, made);
        out.flush();
        return ExitCode.OK;
    }

    @Command(
            name = "rotate",
            mixinStandardHelpOptions = true,
            description = {
                "Gives a gateway a new secret, which is printed this once; or with --certificate a new certificate. The old ones of that kind hold for a while, beside the new one.",
                "Keys of the other kind stay; revoke --fingerprint ends one of them."
            })
    int rotate(
            @Parameters(paramLabel = "GATEWAY", description = "Its name, as in its topics.") String gateway,
            @Option(
                            names = "--certificate",
                            paramLabel = "FILE",
                            description =
                                    "The gateway's new certificate in PEM, in place of the certificates that it has.")
                    Path certificate,
            @Option(
                            names = "--grace",
                            paramLabel = "HOURS",
                            defaultValue = "24",
                            description =
                                    "For how long the old key holds, 0 to 744 (default: ${DEFAULT-VALUE}); 0 ends it at once.")
                    int grace)
            throws IOException, InterruptedException {
        Map<String, Object> body = new LinkedHashMap<>(body(certificate));
        body.put("graceHours", grace);
        JsonNode made = made(post(gateway, "/rotate", body));
        PrintWriter out = Output.of(spec);
        tell(out, made);
        out.println(grace == 0 ? "The old one has ended." : "The old one holds for " + grace + " more hours.");
        out.flush();
        return ExitCode.OK;
    }

    @Command(
            name = "revoke",
            mixinStandardHelpOptions = true,
            description = {
                "Takes every key of a gateway back and ends its connections. It stays locked out, behind a broker, too, until it is given another.",
                "With --fingerprint only one key is taken back, and only connections that came in by it end."
            })
    int revoke(
            @Parameters(paramLabel = "GATEWAY", description = "Its name, as in its topics.") String gateway,
            @Option(
                            names = "--fingerprint",
                            paramLabel = "SHA256",
                            description =
                                    "The beginning of the key's SHA-256, at least 12 digits, as list and openssl x509 -fingerprint -sha256 show it.")
                    String fingerprint)
            throws IOException, InterruptedException {
        JsonNode ended =
                answered(post(gateway, "/revoke", fingerprint == null ? Map.of() : Map.of("fingerprint", fingerprint)));
        PrintWriter out = Output.of(spec);
        out.println(ended.size() + (ended.size() == 1 ? " key" : " keys") + " of gateway " + gateway + " revoked");
        out.flush();
        return ExitCode.OK;
    }

    private static Map<String, Object> body(@Nullable Path certificate) throws IOException {
        return certificate == null
                ? Map.of()
                : Map.of("certificate", Files.readString(certificate, StandardCharsets.US_ASCII));
    }

    private ServerOptions.Answer post(String gateway, String what, Map<String, Object> body)
            throws IOException, InterruptedException {
        return server.post(
                "/api/v1/gateways/" + URLEncoder.encode(gateway, StandardCharsets.UTF_8) + "/credentials" + what,
                "application/json",
                BodyPublishers.ofString(JsonMapper.shared().writeValueAsString(body)));
    }

    private JsonNode made(ServerOptions.Answer answer) {
        if (answer.status() != 201) {
            return answered(answer);
        }
        return answer.body();
    }

    private JsonNode answered(ServerOptions.Answer answer) {
        if (answer.status() != 200) {
            throw new InputException(server.server + " answered " + answer.status() + ": " + answer.detail());
        }
        return answer.body();
    }

    private static void tell(PrintWriter out, JsonNode made) {
        String gateway = made.path("gateway").asString("");
        Optional<String> secret = made.path("secret").asStringOpt();
        secret.ifPresent(text -> {
            out.println("user:   " + gateway);
            out.println("secret: " + text);
            out.println("It is shown this once: only its digest is kept.");
        });
        if (secret.isEmpty()) {
            out.println("Gateway " + gateway + " is known by its certificate, SHA-256 "
                    + made.path("sha256").asString(""));
        }
    }

    private static String line(JsonNode key) {
        String end = key.has("endedAt")
                ? "revoked " + key.path("endedAt").asString("") + " by "
                        + key.path("endedBy").asString("")
                : key.has("until") ? "until " + key.path("until").asString("") : "in force";
        return String.join(
                "\t",
                key.path("gateway").asString(""),
                key.path("kind").asString("")
                        + ' '
                        + key.path("sha256").asString(key.path("fingerprint").asString("")),
                "since " + key.path("addedAt").asString("") + " by "
                        + key.path("addedBy").asString(""),
                end);
    }
}
