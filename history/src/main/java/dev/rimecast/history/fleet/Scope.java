package dev.rimecast.history.fleet;

import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * Of how many machines a part of the look can say something, and of which not. Every machine that is in the register or has cycles is in one of both:
 * {@code known = looked + left out}.
 *
 * @param leftOut by reason, in their order
 */
public record Scope(Part part, int looked, List<LeftOut> leftOut) {

    /** What is looked for. */
    public enum Part {
        /** Expectations that no longer fit. */
        EXPECTATIONS,
        /** Sensors that say less often than before what they said. */
        SILENT,
        /** Air sensors that move away from those of the same room. */
        APART_FROM_ROOM,
        /** Evaporator probes that move. */
        PROBE_MOVES,
        /** Model groups that are another kind. */
        GROUPS;

        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }

    /** Why nothing can be said of a machine. Of several reasons the first holds. */
    public enum Reason {
        NO_CYCLE("no complete cycle in the whole history"),
        NO_RECENT_CYCLE("no complete cycle in these days"),
        NOT_LEARNED("no cycle with an expectation yet"),
        FEW_CYCLES("fewer than 30 cycles"),
        NO_BEFORE("nothing from before the last week"),
        NOT_REGISTERED("in no register"),
        NO_SENSOR("no such sensor, or it says nothing"),
        ALONE("fewer than three such sensors in the room"),
        FEW_DAYS("fewer than 14 days"),
        NOT_JUDGED("its expectations are not judged"),
        NO_GROUP("without a model group"),
        SMALL_GROUP("fewer than five judged machines in its model group"),
        NO_OTHERS("fewer than five judged machines outside its model group");

        private final String words;

        Reason(String words) {
            this.words = words;
        }

        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }

        String words() {
            return words;
        }
    }

    /** Machines that were left out for a reason, by name. */
    public record LeftOut(Reason reason, List<String> machines) {
        public LeftOut {
            machines = List.copyOf(machines);
        }
    }

    public Scope {
        leftOut = List.copyOf(leftOut);
    }

    /** Asks of each machine why it is left out; it is looked at where nothing speaks against it. */
    static Scope of(Part part, Collection<String> known, Function<String, Optional<Reason>> why) {
        Map<Reason, List<String>> out = new EnumMap<>(Reason.class);
        known.forEach(machine -> why.apply(machine)
                .ifPresent(reason -> out.computeIfAbsent(reason, ignored -> new ArrayList<>())
                        .add(machine)));
        int left = out.values().stream().mapToInt(List::size).sum();
        List<LeftOut> leftOut = new ArrayList<>();
        out.forEach((reason, machines) -> leftOut.add(new LeftOut(reason, machines)));
        return new Scope(part, known.size() - left, leftOut);
    }
}
