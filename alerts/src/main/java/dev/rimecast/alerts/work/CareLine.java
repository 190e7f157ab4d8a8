package dev.rimecast.alerts.work;

import dev.rimecast.alerts.view.EventView;
import dev.rimecast.telemetry.log.EventKind;
import java.time.Instant;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * One line of the hygiene record of a machine, or of all on a site: ice is food, and who did what when can be asked for.
 *
 * @param machine empty for what was done to all of a site
 * @param site where that was
 * @param what code of the event or, where no event says it, of the deed
 * @param detail as it was reported; may be empty
 * @param by who did it; may be empty
 * @param enteredBy whose account it came from; empty where the product put it in
 */
public record CareLine(
        Instant at,
        Optional<String> machine,
        String site,
        String what,
        String detail,
        String by,
        String job,
        String enteredBy) {
    /** What is care of what people drink and eat, or of what cleans the air and the water for it. */
    public static final Set<EventKind> KINDS = EnumSet.of(
            EventKind.CLEANED, EventKind.AIR_FILTER_WASHED, EventKind.WATER_FILTER_CHANGED, EventKind.LAMP_CHANGED);

    /** Of events, of machines and of a whole site, and reports of work, oldest first. What a report said as an event is there once. */
    public static List<CareLine> of(List<EventView> events, List<StoredWork> work) {
        Stream<CareLine> reported = events.stream()
                .filter(event -> KINDS.contains(event.kind()))
                .map(event -> new CareLine(
                        event.at(),
                        event.machine(),
                        event.site(),
                        event.kind().code(),
                        event.detail(),
                        event.by(),
                        event.job(),
                        event.enteredBy().orElse("")));
        Stream<CareLine> discarded = work.stream()
                .filter(each -> each.report().done().contains(Done.of(Deed.FIRST_BATCHES_DISCARDED)))
                .map(each -> new CareLine(
                        each.report().at(),
                        Optional.of(each.machine()),
                        each.site(),
                        Deed.FIRST_BATCHES_DISCARDED.code(),
                        "",
                        each.report().by(),
                        each.report().job(),
                        each.enteredBy()));
        return Stream.concat(reported, discarded)
                .sorted(Comparator.comparing(CareLine::at)
                        .thenComparing(line -> line.machine().orElse("")))
                .toList();
    }
}
