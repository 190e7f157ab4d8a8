package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.file.csv.CsvScanner;
import dev.rimecast.telemetry.file.csv.Decimals;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** One cell of a telemetry log as a reading. */
final class CellReader {
    /** What a decoder puts where the bytes were not UTF-8. */
    private static final char REPLACEMENT = '\uFFFD';

    private static final Phase[] ALL_PHASES = Phase.values();
    private static final String PHASES =
            Stream.of(Phase.values()).map(Phase::code).collect(Collectors.joining(", "));

    private CellReader() {}

    /** Empty if the cell is not what the channel has. */
    static Optional<Reading> read(CsvScanner scanner, int cell, String machine, Channel channel, long timeMillis) {
        return switch (channel.kind()) {
            case NUMBER -> number(scanner, cell, machine, channel, timeMillis, -Double.MAX_VALUE);
            case DURATION, COUNTER -> number(scanner, cell, machine, channel, timeMillis, 0);
            case FLAG -> flag(scanner, cell, machine, channel, timeMillis);
            case PHASE -> phase(scanner, cell, machine, timeMillis);
            case TEXT -> text(scanner.cell(cell), machine, channel, timeMillis);
        };
    }

    private static Optional<Reading> number(
            CsvScanner scanner, int cell, String machine, Channel channel, long timeMillis, double least) {
        OptionalDouble value = Decimals.parse(scanner.chars(), scanner.start(cell), scanner.length(cell));
        return value.isPresent() && value.getAsDouble() >= least
                ? Optional.of(Reading.number(machine, channel, timeMillis, value.getAsDouble()))
                : Optional.empty();
    }

    private static Optional<Reading> phase(CsvScanner scanner, int cell, String machine, long timeMillis) {
        for (Phase phase : ALL_PHASES) {
            if (scanner.is(cell, phase.code())) {
                return Optional.of(Reading.phase(machine, timeMillis, phase));
            }
        }
        return Optional.empty();
    }

    private static Optional<Reading> flag(
            CsvScanner scanner, int cell, String machine, Channel channel, long timeMillis) {
        char c = scanner.chars()[scanner.start(cell)];
        return scanner.length(cell) == 1 && (c == '0' || c == '1')
                ? Optional.of(Reading.flag(machine, channel, timeMillis, c == '1'))
                : Optional.empty();
    }

    private static Optional<Reading> text(String text, String machine, Channel channel, long timeMillis) {
        return text.indexOf(REPLACEMENT) >= 0
                ? Optional.empty()
                : Optional.of(Reading.text(machine, channel, timeMillis, text));
    }

    /** What a cell must be, as it reads after "must be". */
    static String must(Channel channel) {
        return switch (channel.kind()) {
            case NUMBER -> "a number";
            case DURATION, COUNTER -> "a number of at least 0";
            case FLAG -> "1 or 0";
            case PHASE -> "one of " + PHASES;
            case TEXT -> "text in UTF-8";
        };
    }
}
