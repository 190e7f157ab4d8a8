package dev.rimecast.app.logging;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.encoder.Encoder;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/** How a line of the log is written. {@code logback.xml} reads the same variable, and takes {@code logback-text.xml} or {@code logback-json.xml}. */
public enum LogFormat {
    /** For people. */
    TEXT,
    /** For programs: {@link JsonLine}. */
    JSON;

    /** The environment variable. */
    public static final String VARIABLE = "RIMECAST_LOG_FORMAT";

    private static final String PATTERN =
            "%d{yyyy-MM-dd'T'HH:mm:ss.SSS'Z', UTC} %-5level [%thread] %logger{1}: %msg%n%ex{full}";

    /**
     * The one that is set; text where none is.
     *
     * @throws IllegalArgumentException if it is none of them: says so with the variable's name
     */
    public static LogFormat of(Map<String, String> environment) {
        String set = environment.getOrDefault(VARIABLE, TEXT.code());
        return Arrays.stream(values())
                .filter(format -> format.code().equals(set))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException(VARIABLE + " must be one of "
                        + Arrays.stream(values()).map(LogFormat::code).collect(Collectors.joining(", ")) + ", found '"
                        + set + "'"));
    }

    private String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** For a file. */
    Encoder<ILoggingEvent> encoder(LoggerContext context) {
        return switch (this) {
            case TEXT -> {
                PatternLayoutEncoder text = new PatternLayoutEncoder();
                text.setContext(context);
                text.setPattern(PATTERN);
                text.start();
                yield text;
            }
            case JSON -> {
                JsonLine json = new JsonLine();
                json.setContext(context);
                json.start();
                yield json;
            }
        };
    }
}
