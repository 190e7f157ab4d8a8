package dev.rimecast.app.command;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine.Command;
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
final class RejectsCommand extends LaidAsideCommand {
    RejectsCommand() {
        this(new ServerOptions());
    }

    RejectsCommand(ServerOptions server) {
        super(new Kind("/api/v1/system/rejects", "message", "\\d+-\\d+", "3-118"), server);
    }

    @Override
    boolean hasSomethingLeft(JsonNode message) {
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

    @Override
    void print(PrintWriter out, JsonNode message) {
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
    }

    @Override
    boolean isTaken(JsonNode replayed) {
        return replayed.path("rejected").isEmpty();
    }

    @Override
    String outcome(JsonNode replayed) {
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
