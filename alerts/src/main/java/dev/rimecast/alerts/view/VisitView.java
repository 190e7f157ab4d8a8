package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Planned;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * A visit to a site.
 *
 * @param zone the site's: day and minute are counted there
 * @param fromMinute of the day
 * @param minutes on site
 * @param sequence counts every change that matters to whoever goes there; sent back with an action
 * @param needs what it is for; of one that is over, what it was for
 * @param request what somebody asked for who made it by hand; absent where planning made it
 * @param orders what takes days to come for it, while it is open
 * @param engineerAway whether whoever goes is away that day: somebody must move it
 * @param history oldest first
 */
public record VisitView(
        UUID id,
        String site,
        String siteName,
        ZoneId zone,
        Optional<String> contact,
        LocalDate day,
        int fromMinute,
        int minutes,
        String engineer,
        State state,
        int sequence,
        String note,
        List<Planned> needs,
        Optional<VisitRequest> request,
        List<PartOrder> orders,
        boolean engineerAway,
        Instant createdAt,
        Instant changedAt,
        String changedBy,
        List<AuditLine> history) {

    /** Where a visit is in its life. */
    public enum State {
        /** Made by planning, which may change it. */
        PROPOSED,
        /** A person has said that it is so: planning leaves it alone. */
        ACCEPTED,
        /** Somebody was there. */
        DONE,
        CANCELLED;

        private final String code = name().toLowerCase(Locale.ROOT);

        public String code() {
            return code;
        }

        public boolean isOpen() {
            return this == PROPOSED || this == ACCEPTED;
        }

        public static Optional<State> ofCode(String code) {
            for (State state : values()) {
                if (state.code.equals(code)) {
                    return Optional.of(state);
                }
            }
            return Optional.empty();
        }
    }

    public VisitView {
        needs = List.copyOf(needs);
        orders = List.copyOf(orders);
        history = List.copyOf(history);
    }

    /** Each once: those that somebody named, then those of what it is for. */
    public List<String> machines() {
        return Stream.concat(
                        request.stream().flatMap(asked -> asked.machines().stream()),
                        needs.stream().flatMap(planned -> planned.need().machines().stream()))
                .distinct()
                .toList();
    }

    public ZonedDateTime begins() {
        return day.atStartOfDay(zone).withHour(fromMinute / 60).withMinute(fromMinute % 60);
    }
}
