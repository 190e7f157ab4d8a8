package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Which kinds of machine a line is for; an empty set asks nothing. */
record Fit(Set<SprayUnit> spray, Set<DrainKind> drain, Set<Cooling> cooling) {
    static final Fit EVERY = new Fit(Set.of(), Set.of(), Set.of());

    Fit {
        spray = Set.copyOf(spray);
        drain = Set.copyOf(drain);
        cooling = Set.copyOf(cooling);
    }

    /** The key {@code for} of a line; where it is not there the line is for every machine. */
    static Fit read(YamlMap line) {
        if (!line.has("for")) {
            return EVERY;
        }
        YamlMap kinds = line.map("for");
        if (kinds.keys().isEmpty()) {
            line.problem("for", "is empty: name a kind, or delete it");
        }
        return new Fit(
                set(kinds, "spray", SprayUnit.class),
                set(kinds, "drain", DrainKind.class),
                set(kinds, "cooling", Cooling.class));
    }

    private static <E extends Enum<E>> Set<E> set(YamlMap map, String key, Class<E> type) {
        Set<E> values = EnumSet.noneOf(type);
        values.addAll(map.list(key, YamlType.oneOf(type, kind -> kind.name().toLowerCase(Locale.ROOT))));
        if (map.has(key) && values.isEmpty()) {
            map.problem(key, "is empty: name a kind, or delete it");
        }
        return values;
    }

    /** Whether nothing that is known speaks against it. */
    boolean mayBe(MachineKind kind) {
        return mayBe(spray, kind.spray()) && mayBe(drain, kind.drain()) && mayBe(cooling, kind.cooling());
    }

    private static <E> boolean mayBe(Set<E> wanted, Optional<E> is) {
        return wanted.isEmpty() || is.isEmpty() || wanted.contains(is.get());
    }

    /** What must still be so for the line to be of use, in words; empty where it is known to be. */
    String open(MachineKind kind, KindWords words) {
        List<String> open = new ArrayList<>();
        open(open, spray, kind.spray(), words.spray());
        open(open, drain, kind.drain(), words.drain());
        open(open, cooling, kind.cooling(), words.cooling());
        return String.join(" and ", open);
    }

    private static <E extends Enum<E>> void open(
            List<String> open, Set<E> wanted, Optional<E> is, Map<E, String> words) {
        if (!wanted.isEmpty() && is.isEmpty()) {
            open.add(wanted.stream()
                    .sorted()
                    .map(kind -> words.getOrDefault(kind, kind.name()))
                    .collect(Collectors.joining(" or ")));
        }
    }
}
