package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.URLEncoder;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
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
        Map<String, Object> body = certificate == null
                ? Map.of()
                : Map.of("certificate", Files.readString(certificate, StandardCharsets.US_ASCII));
        JsonNode made = made(post(gateway, "", body));
        PrintWriter out = Output.of(spec);
        tellSecret(out, made);
        if (certificate != null) {
            out.println("Gateway " + gateway + " is known by its certificate, SHA-256 "
                    + made.path("sha256").asString(""));
        }
        out.flush();
        return ExitCode.OK;
    }

    @Command(
            name = "rotate",
            mixinStandardHelpOptions = true,
            description = "Gives a gateway a new secret, which is printed this once; the old one holds for a while.")
    int rotate(
            @Parameters(paramLabel = "GATEWAY", description = "Its name, as in its topics.") String gateway,
            @Option(
                            names = "--grace",
                            paramLabel = "HOURS",
                            defaultValue = "24",
                            description =
                                    "For how long the old secret holds, 0 to 744 (default: ${DEFAULT-VALUE}); 0 ends it at once.")
                    int grace)
            throws IOException, InterruptedException {
        JsonNode made = made(post(gateway, "/rotate", Map.of("graceHours", grace)));
        PrintWriter out = Output.of(spec);
        tellSecret(out, made);
        out.println(grace == 0 ? "The old one has ended." : "The old one holds for " + grace + " more hours.");
        out.flush();
        return ExitCode.OK;
    }

    @Command(
            name = "revoke",
            mixinStandardHelpOptions = true,
            description =
                    "Takes every key of a gateway back and ends its connections. It stays locked out, behind a broker, too, until it is given another.")
    int revoke(@Parameters(paramLabel = "GATEWAY", description = "Its name, as in its topics.") String gateway)
            throws IOException, InterruptedException {
        JsonNode ended = answered(post(gateway, "/revoke", Map.of()));
        PrintWriter out = Output.of(spec);
        out.println(ended.size() + (ended.size() == 1 ? " key" : " keys") + " of gateway " + gateway + " revoked");
        out.flush();
        return ExitCode.OK;
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

    private static void tellSecret(PrintWriter out, JsonNode made) {
        Optional<String> secret = made.path("secret").asStringOpt();
        secret.ifPresent(text -> {
            out.println("user:   " + made.path("gateway").asString(""));
            out.println("secret: " + text);
            out.println("It is shown this once: only its digest is kept.");
        });
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
                        + (key.has("sha256") ? " " + key.path("sha256").asString("") : ""),
                "since " + key.path("addedAt").asString("") + " by "
                        + key.path("addedBy").asString(""),
                end);
    }
}
