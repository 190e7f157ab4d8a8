package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.joran.JoranConfigurator;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import ch.qos.logback.core.encoder.Encoder;
import ch.qos.logback.core.joran.spi.JoranException;
import ch.qos.logback.core.read.ListAppender;
import dev.rimecast.app.command.RootCommand;
import dev.rimecast.app.logging.LogFormat;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.slf4j.MDC;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The log as it is shipped (OWASP ASVS 5.0: 16.2.2, 16.3.2, 16.4.1). */
class LogLinesTest {
    private static final String SENT =
            "gw\n2026-01-01T00:00:00.000Z ERROR all is lost\r\u001b[2J\u2028\u0085\tend \"\\ é";

    private final LoggerContext context = new LoggerContext();
    private final ListAppender<ILoggingEvent> events = new ListAppender<>();

    /** The encoder that {@code logback.xml} chooses. */
    private Encoder<ILoggingEvent> shipped(String format) throws JoranException {
        if (!format.isEmpty()) {
            context.putProperty(LogFormat.VARIABLE, format);
        }
        JoranConfigurator configurator = new JoranConfigurator();
        configurator.setContext(context);
        configurator.doConfigure(LogLinesTest.class.getResource("/logback.xml"));
        events.start();
        context.getLogger("ROOT").addAppender(events);
        return ((ConsoleAppender<ILoggingEvent>) context.getLogger("ROOT").getAppender("console")).getEncoder();
    }

    @AfterEach
    void stop() {
        context.stop();
    }

    @Test
    void whatSomebodySends_makesNoLineOfItsOwn() throws Exception {
        Encoder<ILoggingEvent> encoder = shipped("");
        assertThat(encoder).as("text, where nothing is set").isInstanceOf(PatternLayoutEncoder.class);

        context.getLogger("dev.rimecast.test").warn("refused: {}", SENT);

        String line = new String(encoder.encode(events.list.get(0)), StandardCharsets.UTF_8);
        assertThat(line.lines().toList()).hasSize(1);
        assertThat(line)
                .startsWith(String.valueOf(LocalDate.now(ZoneOffset.UTC).getYear()))
                .contains("Z WARN ", "gw?2026-01-01T00:00:00.000Z ERROR all is lost??[2J???end")
                .endsWith("\n")
                .doesNotContain("\r", "\u001b", "\u2028", "\u0085");
    }

    @Test
    void json_ofWhatSomebodySends_isALineWithAllOfIt() throws Exception {
        Encoder<ILoggingEvent> encoder = shipped("json");
        MDC.put("secret", "4711");
        try {
            context.getLogger("dev.rimecast.test").warn("refused: {}", SENT);
        } finally {
            MDC.clear();
        }

        JsonNode event = one(encoder);
        assertThat(event.propertyNames()).containsExactly("time", "level", "logger", "thread", "message");
        assertThat(event.path("message").asString()).isEqualTo("refused: " + SENT);
        assertThat(event.path("level").asString()).isEqualTo("WARN");
        assertThat(event.path("logger").asString()).isEqualTo("dev.rimecast.test");
        assertThat(Instant.parse(event.path("time").asString()))
                .isBetween(Instant.now().minusSeconds(60), Instant.now());
    }

    @Test
    void json_ofAFailure_hasItsTraceOnTheSameLine() throws Exception {
        Encoder<ILoggingEvent> encoder = shipped("json");
        Exception failure = new IllegalStateException("outer\nline", new IOException("inner \u2029"));
        failure.addSuppressed(new IllegalArgumentException("beside"));

        context.getLogger("dev.rimecast.test").error("it failed", failure);

        JsonNode event = one(encoder);
        assertThat(event.path("message").asString()).isEqualTo("it failed");
        assertThat(event.path("stack").asString())
                .contains("IllegalStateException: outer", "Caused by: java.io.IOException: inner", "Suppressed: ")
                .contains("\tat " + LogLinesTest.class.getName());
    }

    /** What whoever reads lines has, by every idea of where a line ends (Unicode Standard Annex 14, mandatory breaks). */
    private JsonNode one(Encoder<ILoggingEvent> encoder) {
        String text = new String(encoder.encode(events.list.get(0)), StandardCharsets.UTF_8);
        assertThat(text).endsWith("\n");
        String line = text.substring(0, text.length() - 1);
        assertThat(line).matches("[\\x20-\\x7e]+");
        return JsonMapper.shared().readTree(line);
    }

    @Test
    void format_thatIsNone_isRefusedBeforeAnythingIsDone() {
        PrintStream before = System.err;
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        System.setErr(new PrintStream(said, true, StandardCharsets.UTF_8));
        try {
            assertThat(RootCommand.execute(new String[] {"--version"}, Map.of(LogFormat.VARIABLE, "xml")))
                    .isEqualTo(2);
        } finally {
            System.setErr(before);
        }
        assertThat(said.toString(StandardCharsets.UTF_8)).contains("RIMECAST_LOG_FORMAT", "text, json", "'xml'");
    }
}
