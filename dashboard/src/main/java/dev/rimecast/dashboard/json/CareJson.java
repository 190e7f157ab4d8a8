package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.work.CareLine;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * One kind of planned care of a machine, and when it was last reported.
 *
 * @param event the kind of event that says that it was done
 * @param doneAt absent where it was never reported
 * @param everyDays the register's own interval; absent where that of the machine's model group holds
 * @param dueAt {@code doneAt} and the register's interval, where both are there
 */
public record CareJson(
        String event,
        Optional<Instant> doneAt,
        @Nullable String by,
        @Nullable String job,
        @Nullable Integer everyDays,
        Optional<Instant> dueAt) {

    /** What care consists of; a lamp only where the register has one or one was changed. */
    public static final Set<EventKind> KINDS = CareLine.KINDS;

    public static List<CareJson> of(Machine machine, List<EventView> newest) {
        return Stream.of(EventKind.values())
                .filter(KINDS::contains)
                .map(kind -> {
                    Optional<EventView> done = newest.stream()
                            .filter(event -> event.kind() == kind)
                            .findFirst();
                    return isOf(machine, kind, done.isPresent())
                            ? Optional.of(of(kind, days(machine, kind), done))
                            : Optional.<CareJson>empty();
                })
                .flatMap(Optional::stream)
                .toList();
    }

    private static CareJson of(EventKind kind, OptionalInt days, Optional<EventView> done) {
        return new CareJson(
                kind.code(),
                done.map(EventView::at),
                done.map(EventView::by).filter(by -> !by.isEmpty()).orElse(null),
                done.map(EventView::job).filter(job -> !job.isEmpty()).orElse(null),
                days.isPresent() ? Integer.valueOf(days.getAsInt()) : null,
                days.isPresent()
                        ? done.map(event -> event.at().plus(days.getAsInt(), ChronoUnit.DAYS))
                        : Optional.empty());
    }

    private static boolean isOf(Machine machine, EventKind kind, boolean wasDone) {
        return switch (kind) {
            case AIR_FILTER_WASHED -> wasDone || machine.condenserCooling() == Machine.Cooling.AIR;
            case LAMP_CHANGED ->
                wasDone
                        || machine.lampInstalled().isPresent()
                        || machine.care().lampDays().isPresent();
            default -> true;
        };
    }

    private static OptionalInt days(Machine machine, EventKind kind) {
        return switch (kind) {
            case CLEANED -> machine.care().cleaningDays();
            case AIR_FILTER_WASHED -> machine.care().airFilterDays();
            case WATER_FILTER_CHANGED -> machine.care().waterFilterDays();
            case LAMP_CHANGED -> machine.care().lampDays();
            default -> throw new IllegalArgumentException(kind + " is no planned care");
        };
    }
}
