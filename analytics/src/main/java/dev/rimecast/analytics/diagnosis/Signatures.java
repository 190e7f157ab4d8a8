package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/**
 * In which direction each cause moves the features of a machine of one kind of control: 1 up, -1 down; a feature that it leaves
 * is not there.
 */
public final class Signatures {
    private record Control(Optional<EndsBy> freeze, Optional<EndsBy> fill) {}

    private static final Map<Control, List<Map<Feature, Integer>>> OF_CONTROL = new ConcurrentHashMap<>();

    private Signatures() {}

    /** Of every cause that moves more than one feature, each once. */
    public static List<Map<Feature, Integer>> of(Optional<EndsBy> freezeEndsBy, Optional<EndsBy> fillEndsBy) {
        return OF_CONTROL.computeIfAbsent(new Control(freezeEndsBy, fillEndsBy), Signatures::read);
    }

    private static List<Map<Feature, Integer>> read(Control control) {
        return SymptomMatrix.LINES.stream()
                .filter(line -> line.mayHold(control.freeze(), control.fill()))
                .map(line -> signs(line, control))
                .filter(signs -> signs.size() > 1)
                .distinct()
                .toList();
    }

    private static Map<Feature, Integer> signs(Symptoms line, Control control) {
        Map<Feature, Integer> signs = new EnumMap<>(Feature.class);
        for (Feature feature : Feature.values()) {
            boolean isDisputed = control.freeze().isEmpty()
                    && SymptomMatrix.DISPUTED
                            .getOrDefault(line.cause(), Set.of())
                            .contains(feature);
            if (line.sign(feature) != 0 && !isDisputed) {
                signs.put(feature, line.sign(feature));
            }
        }
        return Collections.unmodifiableMap(signs);
    }
}
