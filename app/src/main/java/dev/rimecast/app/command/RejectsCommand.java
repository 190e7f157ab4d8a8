package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.http.HttpRequest.BodyPublishers;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import tools.jackson.databind.JsonNode;

/** Shows what a running server has rejected, and has it taken again. */
@Command(
        name = "rejects",
        mixinStandardHelpOptions = true,
        description = {
            "Lists the newest messages of which a running server has rejected something, newest first: identifier, when,"
                    + " gateway, topic, reasons, and what came of it when it was taken again.",
            "With --replay, has messages taken again after a mend of the register or of the product: only what was rejected"
                    + " of them, and nothing twice. Who did it stays with the message.",
            "Needs an API token (page \"API tokens\"), in the environment as " + ServerOptions.TOKEN
                    + " or in a file; to replay, of an administrator who sees every site."
        },
        footer = ExitCode.FOOTER)
final class RejectsCommand implements Callable<Integer> {
    @Mixin
    ServerOptions server;

    @Option(
            names = "--limit",
            paramLabel = "N",
            defaultValue = "20",
            description = "How many, 1 to 100 (default: ${DEFAULT-VALUE}).")
    int limit = 20;

    @Option(names = "--payload", description = "Shows payloads, too; those longer than 8 KiB are cut.")
    boolean payload;

    @Option(
            names = "--replay",
            paramLabel = "ID",
            split = ",",
            description = "Takes this message again; may be repeated.")
    List<String> replay = new ArrayList<>();

    @Option(names = "--replay-all", description = "Takes again all that are listed and have something left.")
    boolean replayAll;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    RejectsCommand() {
        this(new ServerOptions());
    }

    RejectsCommand(ServerOptions server) {
        this.server = server;
    }

    @Override
    public Integer call() throws IOException, InterruptedException {
        if (replayAll && !replay.isEmpty() && spec != null) {
            throw new ParameterException(spec.commandLine(), "give --replay or --replay-all, not both");
        }
        PrintWriter out = Output.of(spec);
        if (!replay.isEmpty()) {
            return replay(out, replay);
        }
        JsonNode rejects = answered(server.get("/api/v1/system/rejects?limit=" + limit));
        if (replayAll) {
            List<String> open = new ArrayList<>();
            rejects.forEach(one -> {
                if (hasSomethingLeft(one)) {
                    open.add(one.path("id").asString(""));
                }
            });
            return replay(out, open);
        }
        rejects.forEach(one -> print(out, one));
        out.println(rejects.size() + (rejects.size() == 1 ? " message" : " messages"));
        out.flush();
        return ExitCode.OK;
    }

    private JsonNode answered(ServerOptions.Answer answer) {
        if (answer.status() != 200) {
            throw new InputException(server.server + " answered " + answer.status() + ": " + answer.detail());
        }
        return answer.body();
    }

    private static boolean hasSomethingLeft(JsonNode message) {
        JsonNode replays = message.path("replays");
        JsonNode last = replays.isEmpty()
                ? message.path("reasons")
                : replays.get(replays.size() - 1).path("rejected");
        for (JsonNode reason : last) {
            if (!reason.path("reason").asString("").equals("bad-number")) {
                return true;
            }
        }
        return false;
    }

    /** All of them, whatever becomes of one; ends well only if nothing was rejected again or refused. */
    private int replay(PrintWriter out, List<String> messages) throws IOException, InterruptedException {
        boolean isAllTaken = true;
        for (String id : messages) {
            if (!id.matches("\\d+-\\d+")) {
                throw new InputException("--replay takes identifiers as the list shows them, such as 3-118; was " + id);
            }
            ServerOptions.Answer answer = server.post(
                    "/api/v1/system/rejects/" + id + "/replay", "application/json", BodyPublishers.ofString("{}"));
            if (answer.status() == 404 || answer.status() == 409) {
                isAllTaken = false;
                out.println(id + "\tnot taken: " + answer.detail());
            } else {
                JsonNode done = answered(answer);
                isAllTaken &= done.path("rejected").isEmpty();
                out.println(id + "\t" + outcome(done));
            }
            out.flush();
        }
        out.println(messages.size() + (messages.size() == 1 ? " message" : " messages") + " looked at again");
        out.flush();
        return isAllTaken ? ExitCode.OK : ExitCode.WRONG_INPUT;
    }

    private void print(PrintWriter out, JsonNode message) {
        out.println(String.join(
                "\t",
                message.path("id").asString(""),
                message.path("at").asString(""),
                message.path("sender").asString(""),
                message.path("topic").asString(""),
                reasons(message.path("reasons"))));
        message.path("replays")
                .forEach(replayed ->
                        out.println("\ttaken again by " + replayed.path("by").asString("") + " at "
                                + replayed.path("at").asString("") + ": " + outcome(replayed)));
        if (payload) {
            out.println("\t" + message.path("payload").asString(""));
        }
    }

    private static String outcome(JsonNode replayed) {
        JsonNode rejected = replayed.path("rejected");
        return replayed.path("stored").asInt() + " readings stored, "
                + replayed.path("unclaimed").asInt() + " unclaimed, " + rejected.size() + " rejected again"
                + (rejected.isEmpty() ? "" : ": " + reasons(rejected));
    }

    private static String reasons(JsonNode reasons) {
        List<String> lines = new ArrayList<>();
        for (JsonNode reason : reasons) {
            String detail = reason.path("detail").asString("");
            lines.add((reason.has("index") ? "record " + reason.path("index").asInt() + " " : "")
                    + reason.path("reason").asString("")
                    + (detail.isEmpty() ? "" : " (" + detail + ")"));
        }
        return String.join("; ", lines);
    }
}
