package dev.rimecast.analytics.policy;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.snakeyaml.engine.v2.api.Dump;
import org.snakeyaml.engine.v2.api.DumpSettings;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.common.FlowStyle;

/** The text of a policy that comes of another by changing numbers. Its comments are not in it. */
public final class PolicyText {
    private PolicyText() {}

    /**
     * Changes numbers for every machine that no model group says otherwise of.
     *
     * <p>Of the product's own policy only what is changed is written: what a policy does not say is as in the product's. A
     * number that is set to what the product has is left out, too.
     *
     * @param version its name; every finding will carry it
     * @param changes by path below {@code all}
     */
    public static String of(Policy base, String version, Map<String, Double> changes) {
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("version", version);
        if (!base.equals(Policy.standard())) {
            Map<String, Object> given = map(new Load(LoadSettings.builder().build()).loadFromString(base.yaml()));
            given.remove("version");
            document.putAll(given);
        }
        Map<String, Object> all = map(document.get("all"));
        changes.forEach((path, value) -> change(all, path, value));
        document.remove("all");
        if (!all.isEmpty()) {
            document.put("all", all);
        }
        return new Dump(DumpSettings.builder()
                        .setDefaultFlowStyle(FlowStyle.BLOCK)
                        .build())
                .dumpToString(document);
    }

    private static void change(Map<String, Object> all, String path, double value) {
        String[] parts = path.split("\\.", -1);
        Map<String, Object> at = all;
        for (int i = 0; i + 1 < parts.length; i++) {
            Map<String, Object> below = map(at.get(parts[i]));
            at.put(parts[i], below);
            at = below;
        }
        boolean isStandard = PolicyForm.standard()
                .entry(path)
                .filter(entry -> entry.standard() == value)
                .isPresent();
        if (isStandard) {
            at.remove(parts[parts.length - 1]);
            prune(all, parts);
        } else {
            Object written = value == StrictMath.rint(value) && Math.abs(value) < 1e15 ? (Object) (long) value : value;
            at.put(parts[parts.length - 1], written);
        }
    }

    /** Takes away mappings on the way to a number in which nothing is left. */
    private static void prune(Map<String, Object> all, String[] parts) {
        for (int depth = parts.length - 1; depth > 0; depth--) {
            Map<String, Object> holder = all;
            for (int i = 0; i + 1 < depth; i++) {
                holder = inside(holder, parts[i]);
            }
            if (inside(holder, parts[depth - 1]).isEmpty()) {
                holder.remove(parts[depth - 1]);
            }
        }
    }

    /** The mapping itself, which {@link #change} has put there. */
    @SuppressWarnings("unchecked")
    private static Map<String, Object> inside(Map<String, Object> holder, String key) {
        return (Map<String, Object>) holder.getOrDefault(key, new LinkedHashMap<String, Object>());
    }

    private static Map<String, Object> map(@Nullable Object node) {
        Map<String, Object> copy = new LinkedHashMap<>();
        if (node instanceof Map<?, ?> known) {
            known.forEach((key, value) -> copy.put(String.valueOf(key), value));
        }
        return copy;
    }
}
