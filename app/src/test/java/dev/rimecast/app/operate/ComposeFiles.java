package dev.rimecast.app.operate;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;

/** The files that put the product into containers, as Compose reads them with no variable set. */
final class ComposeFiles {
    private static final Path ROOT = Path.of("..");
    private static final Pattern VARIABLE = Pattern.compile("(?<!\\$)\\$\\{\\w+:-([^}]*)}");

    /**
     * One process of the product.
     *
     * @param healthcheck what the engine runs in the container, in a shell's words
     */
    record Instance(String name, Map<String, String> environment, List<String> healthcheck) {
        /** Where it is asked how it is. */
        String port() {
            return environment.getOrDefault(
                    "RIMECAST_MANAGEMENT_PORT", environment.getOrDefault("RIMECAST_DASHBOARD_PORT", "none"));
        }
    }

    private ComposeFiles() {}

    static List<Instance> processes(String file) throws IOException {
        Map<?, ?> services =
                map(map(new Load(LoadSettings.builder().build()).loadFromString(Files.readString(ROOT.resolve(file))))
                        .get("services"));
        return services.entrySet().stream()
                .map(service -> process(String.valueOf(service.getKey()), merged(service.getValue())))
                .filter(process -> process.environment().containsKey("RIMECAST_ROLES"))
                .toList();
    }

    private static Instance process(String name, Map<String, Object> service) {
        Map<String, String> environment = merged(service.get("environment")).entrySet().stream()
                .collect(Collectors.toMap(Map.Entry::getKey, entry -> given(String.valueOf(entry.getValue()))));
        Object test = map(service.getOrDefault("healthcheck", Map.of())).get("test");
        List<String> words = test instanceof List<?> list
                ? list.stream()
                        .map(word -> String.valueOf(word).replace("$$", "$"))
                        .toList()
                : List.of();
        return new Instance(name, environment, words);
    }

    /** What Compose puts for a variable that nobody has set. */
    private static String given(String text) {
        Matcher variable = VARIABLE.matcher(text);
        return variable.replaceAll(found -> Matcher.quoteReplacement(found.group(1)));
    }

    /** With what {@code <<} brings in, which the map's own goes before. */
    private static Map<String, Object> merged(@Nullable Object yaml) {
        Map<String, Object> all = new LinkedHashMap<>();
        Map<?, ?> own = map(yaml);
        if (own.containsKey("<<")) {
            all.putAll(merged(own.get("<<")));
        }
        own.forEach((key, value) -> {
            if (!key.equals("<<")) {
                all.put(String.valueOf(key), value);
            }
        });
        return all;
    }

    private static Map<?, ?> map(@Nullable Object yaml) {
        return yaml instanceof Map<?, ?> map ? map : Map.of();
    }
}
