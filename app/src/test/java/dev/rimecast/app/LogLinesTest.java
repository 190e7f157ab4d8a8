package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.joran.JoranConfigurator;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import ch.qos.logback.core.encoder.Encoder;
import ch.qos.logback.core.read.ListAppender;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** The log as it is shipped (OWASP ASVS 5.0: 16.2.2, 16.3.2, 16.4.1). */
class LogLinesTest {
    @Test
    void whatSomebodySends_makesNoLineOfItsOwn() throws Exception {
        LoggerContext context = new LoggerContext();
        JoranConfigurator configurator = new JoranConfigurator();
        configurator.setContext(context);
        configurator.doConfigure(LogLinesTest.class.getResource("/logback.xml"));
        Encoder<ILoggingEvent> encoder =
                ((ConsoleAppender<ILoggingEvent>) context.getLogger("ROOT").getAppender("console")).getEncoder();
        assertThat(encoder).isInstanceOf(PatternLayoutEncoder.class);
        ListAppender<ILoggingEvent> events = new ListAppender<>();
        events.start();
        context.getLogger("ROOT").addAppender(events);

        context.getLogger("dev.rimecast.test")
                .warn("refused: {}", "gw\n2026-01-01T00:00:00.000Z ERROR all is lost\r\u001b[2J\u2028\u0085\tend");

        String line = new String(encoder.encode(events.list.get(0)), StandardCharsets.UTF_8);
        assertThat(line.lines().toList()).hasSize(1);
        assertThat(line)
                .startsWith(String.valueOf(
                        java.time.LocalDate.now(java.time.ZoneOffset.UTC).getYear()))
                .contains("Z WARN ", "gw?2026-01-01T00:00:00.000Z ERROR all is lost??[2J???end")
                .endsWith("\n")
                .doesNotContain("\r", "\u001b", "\u2028", "\u0085");
        context.stop();
    }
}
