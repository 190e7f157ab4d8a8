package dev.rimecast.telemetry.yaml;

/**
 * A value that replaces the one in the document, e.g. from an environment variable. A list is written with commas.
 *
 * @param source what problems call it, e.g. {@code RIMECAST_MQTT_PORT}
 */
public record YamlOverride(String source, String text) {}
