package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.json.EventJson.RowProblemJson;
import dev.rimecast.telemetry.file.csv.CsvTable.Readable;
import dev.rimecast.telemetry.file.csv.InputProblem;
import dev.rimecast.telemetry.file.csv.InputProblems;
import io.javalin.http.Context;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;

/** A table in the body of a request: its good rows, and each bad one with its line. */
final class CsvBody {
    private static final int LONGEST_BYTES = 4 * 1024 * 1024;

    private CsvBody() {}

    /** Reads a table. */
    interface Source<T> {
        Readable<T> read(InputStream csv) throws IOException;
    }

    /** @param tooLong what to do about a body over 4 MiB */
    static <T> Readable<T> read(Context ctx, String tooLong, Source<T> source) {
        String type = ctx.contentType();
        if (type == null || !type.startsWith("text/csv")) {
            throw new Problem(415, "not-csv", "The body must be CSV", "Send text/csv.", Map.of()).asException();
        }
        try {
            return source.read(new ByteArrayInputStream(Body.bytes(ctx, LONGEST_BYTES, tooLong)));
        } catch (InputProblems e) {
            List<RowProblemJson> problems =
                    e.problems().stream().map(CsvBody::problem).toList();
            throw new Problem(
                            400,
                            "bad-csv",
                            "The CSV is not understood",
                            String.valueOf(e.getMessage()),
                            Map.of("problems", problems))
                    .asException();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static RowProblemJson problem(InputProblem problem) {
        return new RowProblemJson(problem.line(), problem.column(), problem.what());
    }

    /** Lines that have a problem. */
    static int lines(List<RowProblemJson> problems) {
        return (int) problems.stream()
                .mapToLong(RowProblemJson::line)
                .filter(line -> line > 0)
                .distinct()
                .count();
    }
}
