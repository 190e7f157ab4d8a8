package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.http.HttpRequest.BodyPublishers;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import tools.jackson.databind.JsonNode;

/** Shows what a running server has laid aside, and has it taken again. */
abstract class LaidAsideCommand implements Callable<Integer> {
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

    @Option(names = "--replay", paramLabel = "ID", split = ",", description = "Takes this one again; may be repeated.")
    List<String> replay = new ArrayList<>();

    @Option(names = "--replay-all", description = "Takes again all that are listed and have something left.")
    boolean replayAll;

    @CommandLine.Spec
    CommandLine.Model.@Nullable CommandSpec spec;

    /**
     * What is laid aside.
     *
     * @param path of the API
     * @param one what one is called, {@code message}
     * @param id what an identifier looks like
     * @param example of an identifier
     */
    record Kind(String path, String one, String id, String example) {
        private String count(int number) {
            return String.format(Locale.ROOT, "%d %s%s", number, one, number == 1 ? "" : "s");
        }
    }

    private final Kind kind;

    LaidAsideCommand(Kind kind, ServerOptions server) {
        this.kind = kind;
        this.server = server;
    }

    /** Whether it would be taken again now. */
    abstract boolean hasSomethingLeft(JsonNode one);

    /** One line of tabs, the identifier first, and more below it. */
    abstract void print(PrintWriter out, JsonNode one);

    /** What came of it, for a person. */
    abstract String outcome(JsonNode replayed);

    /** Whether all of it was taken. */
    abstract boolean isTaken(JsonNode replayed);

    @Override
    public Integer call() throws IOException, InterruptedException {
        if (replayAll && !replay.isEmpty() && spec != null) {
            throw new ParameterException(spec.commandLine(), "give --replay or --replay-all, not both");
        }
        PrintWriter out = Output.of(spec);
        if (!replay.isEmpty()) {
            return replay(out, replay);
        }
        JsonNode found = answered(server.get(kind.path() + "?limit=" + limit));
        if (replayAll) {
            List<String> open = new ArrayList<>();
            found.forEach(one -> {
                if (hasSomethingLeft(one)) {
                    open.add(one.path("id").asString(""));
                }
            });
            return replay(out, open);
        }
        found.forEach(one -> {
            print(out, one);
            if (payload) {
                out.println("\t" + one.path("payload").asString(""));
            }
        });
        out.println(kind.count(found.size()));
        out.flush();
        return ExitCode.OK;
    }

    private JsonNode answered(ServerOptions.Answer answer) {
        if (answer.status() != 200) {
            throw new InputException(server.server + " answered " + answer.status() + ": " + answer.detail());
        }
        return answer.body();
    }

    /** All of them, whatever becomes of one; ends well only if all of each was taken. */
    private int replay(PrintWriter out, List<String> ids) throws IOException, InterruptedException {
        boolean isAllTaken = true;
        for (String id : ids) {
            if (!id.matches(kind.id())) {
                throw new InputException(
                        "--replay takes identifiers as the list shows them, such as " + kind.example() + "; was " + id);
            }
            ServerOptions.Answer answer =
                    server.post(kind.path() + "/" + id + "/replay", "application/json", BodyPublishers.ofString("{}"));
            if (answer.status() == 404 || answer.status() == 409) {
                isAllTaken = false;
                out.println(id + "\tnot taken: " + answer.detail());
            } else {
                JsonNode done = answered(answer);
                isAllTaken &= isTaken(done);
                out.println(id + "\t" + outcome(done));
            }
            out.flush();
        }
        out.println(kind.count(ids.size()) + " looked at again");
        out.flush();
        return isAllTaken ? ExitCode.OK : ExitCode.WRONG_INPUT;
    }
}
