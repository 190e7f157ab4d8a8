package dev.rimecast.app.command;

import java.io.PrintWriter;
import picocli.CommandLine.Command;
import tools.jackson.databind.JsonNode;

/** Shows what a stage of a running server could not process, and has it taken again. */
@Command(
        name = "dead-letters",
        mixinStandardHelpOptions = true,
        description = {
            "Lists the newest records that a stage of a running server could not process, newest first: identifier, when, stage,"
                    + " where it was, key, what it is, why, and what came of it when it was taken again. Each is a fault of the"
                    + " product or of its database: please report it.",
            "With --replay, has them taken again after a mend, such as a newer version; what was taken is not taken twice. Who did it"
                    + " stays with the letter.",
            "Needs an API token (page \"API tokens\"), in the environment as " + ServerOptions.TOKEN
                    + " or in a file; to replay, of an administrator who sees every site."
        },
        footer = ExitCode.FOOTER)
final class DeadLettersCommand extends LaidAsideCommand {
    DeadLettersCommand() {
        this(new ServerOptions());
    }

    DeadLettersCommand(ServerOptions server) {
        super(
                new Kind(
                        "/api/v1/system/dead-letters",
                        "letter",
                        "[0-9a-f-]{36}",
                        "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55"),
                server);
    }

    @Override
    boolean hasSomethingLeft(JsonNode letter) {
        return letter.path("open").asBoolean(false) && !letter.has("obstacle");
    }

    @Override
    void print(PrintWriter out, JsonNode letter) {
        out.println(String.join(
                "\t",
                letter.path("id").asString(""),
                letter.path("at").asString(""),
                letter.path("stage").asString(""),
                letter.path("topic").asString("") + "-"
                        + letter.path("partition").asInt() + "@"
                        + letter.path("offset").asLong(),
                letter.path("key").asString(""),
                letter.path("content").asString(""),
                letter.path("why").asString("")));
        if (letter.has("obstacle")) {
            out.println("\tcan't be taken again: " + letter.path("obstacle").asString(""));
        }
        letter.path("retakes")
                .forEach(retake ->
                        out.println("\ttaken again by " + retake.path("by").asString("") + " at "
                                + retake.path("at").asString("") + ": " + outcome(retake)));
    }

    @Override
    boolean isTaken(JsonNode retake) {
        return !retake.has("failedAgain");
    }

    @Override
    String outcome(JsonNode retake) {
        return isTaken(retake)
                ? "its stage has it"
                : "failed again: " + retake.path("failedAgain").asString("");
    }
}
