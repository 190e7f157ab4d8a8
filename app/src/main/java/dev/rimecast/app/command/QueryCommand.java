package dev.rimecast.app.command;

import dev.rimecast.history.query.Answer;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Printers;
import dev.rimecast.history.query.View;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Asks the history. */
@Command(
        name = "query",
        mixinStandardHelpOptions = true,
        description = {
            "Answers a question in SQL (DuckDB's) about everything that was read, decided and reported. Only reads, whether or not"
                    + " a server runs; what came in the last minutes may not be in a file yet (history.flush).",
            "Views: readings, cycles, alerts, outcomes, findings, proofs, events, packs, records. Times are UTC. Columns and"
                    + " examples are in docs/history.md; \"describe readings\" shows them, too.",
            "E.g. ./rimecast query \"select machine, count(*) from alerts group by machine order by 2 desc\""
        },
        footer = ExitCode.FOOTER)
final class QueryCommand implements Callable<Integer> {
    @Parameters(paramLabel = "SQL", description = "The question; nothing: which views there are.", arity = "0..1")
    String sql = "";

    @Mixin
    HistoryOptions history = new HistoryOptions();

    @ArgGroup
    Form form = new Form();

    /** How it is printed. */
    static final class Form {
        @Option(names = "--csv", description = "Print CSV instead of a table.")
        boolean csv;

        @Option(names = "--json", description = "Print a JSON object a line instead.")
        boolean json;
    }

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        PrintWriter out = Output.of(spec);
        try (History past = history.open()) {
            if (sql.isBlank()) {
                for (View view : View.values()) {
                    out.printf("%-10s %s%n", view.code(), view.meaning());
                }
            } else {
                past.ask(sql, answer(out));
            }
        }
        out.flush();
        return ExitCode.OK;
    }

    private Answer answer(PrintWriter out) {
        if (form.csv) {
            return Printers.csv(out);
        }
        return form.json ? Printers.json(out) : Printers.table(out);
    }
}
