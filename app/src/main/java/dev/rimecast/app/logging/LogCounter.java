package dev.rimecast.app.logging;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.AppenderBase;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import org.slf4j.LoggerFactory;

/** Counts what the log warns of. What the embedded Kafka says of itself has a file of its own and is not in it. */
public final class LogCounter extends AppenderBase<ILoggingEvent> implements AutoCloseable {
    private final Counter warnings;
    private final Counter errors;

    private LogCounter(MeterRegistry meters) {
        warnings = counter(meters, "warn");
        errors = counter(meters, "error");
    }

    /** Counts until it is closed; nothing, where another library writes the log. */
    public static LogCounter start(MeterRegistry meters) {
        LogCounter counter = new LogCounter(meters);
        if (LoggerFactory.getILoggerFactory() instanceof LoggerContext context) {
            counter.setContext(context);
            counter.start();
            context.getLogger(Logger.ROOT_LOGGER_NAME).addAppender(counter);
        }
        return counter;
    }

    private static Counter counter(MeterRegistry meters, String level) {
        return Counter.builder("rimecast.log.events")
                .description("Lines of the log that warn of something or say that it failed")
                .tag("level", level)
                .register(meters);
    }

    @Override
    protected void append(ILoggingEvent event) {
        if (event.getLevel().isGreaterOrEqual(Level.ERROR)) {
            errors.increment();
        } else if (event.getLevel().isGreaterOrEqual(Level.WARN)) {
            warnings.increment();
        }
    }

    @Override
    public void close() {
        if (LoggerFactory.getILoggerFactory() instanceof LoggerContext context) {
            context.getLogger(Logger.ROOT_LOGGER_NAME).detachAppender(this);
        }
        stop();
    }
}
