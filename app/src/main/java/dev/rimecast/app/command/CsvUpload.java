package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import tools.jackson.databind.JsonNode;

/** A table that is sent to a running server, which tells what is wrong with which line. */
final class CsvUpload {
    private CsvUpload() {}

    /**
     * Sends it.
     *
     * @param name what the server calls it in its answers
     * @return what the server says it came to
     * @throws InputException if the server took nothing
     */
    static JsonNode send(ServerOptions server, Path file, String route, String name)
            throws IOException, InterruptedException {
        if (!Files.isRegularFile(file)) {
            throw new NoSuchFileException(file.toString());
        }
        ServerOptions.Answer answer = server.post(route, "text/csv", BodyPublishers.ofFile(file));
        if (answer.status() != 200) {
            throw new InputException(server.server + " answered " + answer.status() + ": "
                    + answer.detail().replace(name, file.toString()));
        }
        return answer.body();
    }

    /** Names each line that was not taken; returns how to end. */
    static int tellProblems(JsonNode summary, Path file, PrintWriter out) {
        for (JsonNode problem : summary.path("problems")) {
            long line = problem.path("line").asLong();
            String column = problem.path("column").asString("");
            out.println(file + (line > 0 ? ":" + line : "") + ": " + (column.isEmpty() ? "" : column + ": ")
                    + problem.path("problem").asString(""));
        }
        return summary.path("problems").isEmpty() ? ExitCode.OK : ExitCode.WRONG_INPUT;
    }
}
