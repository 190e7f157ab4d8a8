package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;

/**
 * What a line says that is for some kinds of machine, where nobody knows which kind it is.
 *
 * @param check pattern of a check, with {@code {kind}} and {@code {text}}
 * @param part pattern of a part, with the same
 * @param sprayUnit names of the spray unit, which {@code {spray}} stands for
 * @param anySprayUnit its name where its kind is not known
 */
record KindWords(
        String check,
        String part,
        Map<SprayUnit, String> spray,
        Map<DrainKind, String> drain,
        Map<Cooling, String> cooling,
        Map<SprayUnit, String> sprayUnit,
        String anySprayUnit) {
    private static final String KIND = "{kind}";
    private static final String TEXT = "{text}";
    private static final String SPRAY = "{spray}";

    static KindWords read(YamlMap map) {
        return new KindWords(
                pattern(map, "check"),
                pattern(map, "part"),
                words(map.map("spray"), SprayUnit.class),
                words(map.map("drain"), DrainKind.class),
                words(map.map("cooling"), Cooling.class),
                words(map.map("spray_unit"), SprayUnit.class),
                map.map("spray_unit").string("not-known"));
    }

    private static String pattern(YamlMap map, String key) {
        String pattern = map.string(key);
        if (map.has(key) && !(pattern.contains(KIND) && pattern.contains(TEXT))) {
            map.problem(key, "must have " + KIND + " and " + TEXT + " in it");
        }
        return pattern;
    }

    private static <E extends Enum<E>> Map<E, String> words(YamlMap map, Class<E> type) {
        Map<E, String> words = new EnumMap<>(type);
        for (E constant : type.getEnumConstants()) {
            words.put(constant, map.string(constant.name().toLowerCase(Locale.ROOT)));
        }
        return words;
    }

    /** The text with the name of the machine's own parts. */
    String named(String text, MachineKind kind) {
        if (!text.contains(SPRAY)) {
            return text;
        }
        String name = kind.spray()
                .map(spray -> sprayUnit.getOrDefault(spray, anySprayUnit))
                .orElse(anySprayUnit);
        String named = text.replace(SPRAY, name);
        return text.startsWith(SPRAY) ? Character.toUpperCase(named.charAt(0)) + named.substring(1) : named;
    }

    static String fill(String pattern, String kind, String text) {
        return pattern.replace(KIND, kind).replace(TEXT, text);
    }
}
