package dev.rimecast.app.config;

import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * One key of the configuration file: how it is read, and what its page says of it.
 *
 * @param section first part of its path
 * @param name second part of its path
 * @param type what its value may be
 * @param standard its value when it is not given, as it would be written; empty where nothing stands in for it
 * @param unit of the value; empty where it has none
 * @param comment what it does, and what moves when it changes
 */
record ConfigKey<T>(
        String section,
        String name,
        YamlType<T> type,
        Optional<T> standard,
        String written,
        String unit,
        String comment) {

    static <T> ConfigKey<T> of(String path, YamlType<T> type, T standard, String written, String unit, String comment) {
        String[] parts = path.split("\\.", 2);
        return new ConfigKey<>(parts[0], parts[1], type, Optional.of(standard), written, unit, comment);
    }

    static <T> ConfigKey<T> optional(String path, YamlType<T> type, String example, String comment) {
        String[] parts = path.split("\\.", 2);
        return new ConfigKey<>(parts[0], parts[1], type, Optional.empty(), example, "", comment);
    }

    String path() {
        return section + '.' + name;
    }

    /** The environment variable that wins over the file. */
    String variable() {
        return "RIMECAST_" + path().toUpperCase(Locale.ROOT).replace('.', '_').replace('-', '_');
    }

    /** The value in the document, or its default; only for keys that have one. */
    T in(YamlMap document) {
        return document.map(section).orElse(name, type, standard.orElseThrow());
    }

    Optional<T> optionalIn(YamlMap document) {
        return document.map(section).optional(name, type);
    }

    /** Its lines on the page of all settings. */
    List<String> described() {
        String value = standard.isPresent() ? "  " + name + ": " + written : "  # " + name + ": " + written;
        String of = unit.isEmpty() ? "" : "Unit: " + unit + ". ";
        return List.of("  # " + comment, "  # " + of + "Environment: " + variable(), value);
    }
}
