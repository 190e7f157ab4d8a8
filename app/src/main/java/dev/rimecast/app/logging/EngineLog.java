package dev.rimecast.app.logging;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.rolling.FixedWindowRollingPolicy;
import ch.qos.logback.core.rolling.RollingFileAppender;
import ch.qos.logback.core.rolling.SizeBasedTriggeringPolicy;
import ch.qos.logback.core.util.FileSize;
import java.nio.file.Path;
import java.util.List;
import org.slf4j.LoggerFactory;

/**
 * Puts what the embedded Kafka says of itself into a file of the data directory. It reports passing troubles of its own
 * start as errors; what concerns us comes back through the engine's failure handler and the stages' health.
 */
public final class EngineLog {
    private static final List<String> LOUD = List.of("kafka", "org.apache.kafka", "state.change.logger");

    private EngineLog() {}

    public static void toFile(Path file) {
        if (!(LoggerFactory.getILoggerFactory() instanceof LoggerContext context)) {
            return;
        }
        RollingFileAppender<ILoggingEvent> appender = appender(context, file);
        for (String name : LOUD) {
            Logger logger = context.getLogger(name);
            logger.setLevel(Level.WARN);
            logger.setAdditive(false);
            logger.detachAndStopAllAppenders();
            logger.addAppender(appender);
        }
    }

    private static RollingFileAppender<ILoggingEvent> appender(LoggerContext context, Path file) {
        RollingFileAppender<ILoggingEvent> appender = new RollingFileAppender<>();
        appender.setContext(context);
        appender.setFile(file.toString());
        appender.setEncoder(LogFormat.of(System.getenv()).encoder(context));

        FixedWindowRollingPolicy rolling = new FixedWindowRollingPolicy();
        rolling.setContext(context);
        rolling.setParent(appender);
        rolling.setFileNamePattern(file + ".%i");
        rolling.setMinIndex(1);
        rolling.setMaxIndex(2);
        rolling.start();

        SizeBasedTriggeringPolicy<ILoggingEvent> size = new SizeBasedTriggeringPolicy<>();
        size.setContext(context);
        size.setMaxFileSize(FileSize.valueOf("10MB"));
        size.start();

        appender.setRollingPolicy(rolling);
        appender.setTriggeringPolicy(size);
        appender.start();
        return appender;
    }
}
