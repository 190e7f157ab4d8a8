package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvScanner;
import dev.rimecast.telemetry.file.csv.InputProblem;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.machine.Channel;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** Which column of a telemetry log holds what. */
record LogHeader(int time, int machine, List<Optional<Channel>> columns) {
    static final String TIME = "time";
    static final String MACHINE = "machine";

    private static final Columns COLUMNS = new Columns(
            List.of(TIME, MACHINE),
            Stream.of(Channel.values()).map(Channel::code).toList());

    /** @throws InputProblems if it can't be a telemetry log */
    static LogHeader read(String file, CsvScanner scanner) throws IOException {
        if (!scanner.next()) {
            throw new InputProblems(new InputProblem(
                    file, 0, "", "is empty: a telemetry log starts with a header: time,machine and then channels"));
        }
        long line = scanner.line();
        if (scanner.fault().isPresent()) {
            throw new InputProblems(
                    new InputProblem(file, line, "", scanner.fault().get()));
        }
        List<String> cells =
                IntStream.range(0, scanner.cells()).mapToObj(scanner::cell).toList();
        List<InputProblem> problems = new ArrayList<>();
        Map<String, Integer> positions = COLUMNS.positions(file, line, cells, problems);
        if (!problems.isEmpty()) {
            throw new InputProblems(problems);
        }
        return new LogHeader(
                positions.getOrDefault(TIME, -1),
                positions.getOrDefault(MACHINE, -1),
                cells.stream().map(Channel::ofCode).toList());
    }
}
