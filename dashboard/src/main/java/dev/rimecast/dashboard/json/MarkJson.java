package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * A mark.
 *
 * @param state whether it counts, as a word
 */
public record MarkJson(
        UUID id,
        String machine,
        String site,
        Optional<UUID> alert,
        Instant from,
        Instant to,
        String mark,
        Optional<String> cause,
        String note,
        Instant at,
        String who,
        String state,
        Optional<Instant> withdrawnAt,
        Optional<String> withdrawnBy) {

    /** Of the file that {@code --marks} of back-tests reads. */
    public static final List<String> COLUMNS = List.of("machine", "from", "to", "mark", "cause");

    public static MarkJson of(Mark mark) {
        Mark.Said said = mark.said();
        return new MarkJson(
                mark.id(),
                said.machine(),
                said.site(),
                said.alert(),
                said.from(),
                said.to(),
                said.verdict().code(),
                said.cause().map(Cause::code),
                said.note(),
                mark.at(),
                mark.who(),
                mark.state().code(),
                mark.withdrawn().map(Mark.Withdrawn::at),
                mark.withdrawn().map(Mark.Withdrawn::by));
    }

    /** A line under {@link #COLUMNS}. */
    public static List<String> row(Mark mark) {
        Mark.Said said = mark.said();
        return List.of(
                said.machine(),
                said.from().toString(),
                said.to().toString(),
                said.verdict().code(),
                said.cause().map(Cause::code).orElse(""));
    }
}
