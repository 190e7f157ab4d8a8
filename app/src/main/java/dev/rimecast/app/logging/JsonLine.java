package dev.rimecast.app.logging;

import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.IThrowableProxy;
import ch.qos.logback.classic.spi.ThrowableProxyUtil;
import ch.qos.logback.core.encoder.EncoderBase;
import java.io.ByteArrayOutputStream;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.json.JsonFactory;
import tools.jackson.core.json.JsonWriteFeature;

/**
 * An event as a line of JSON: {@code time} (UTC, ISO 8601), {@code level}, {@code logger}, {@code thread}, {@code message}, and
 * {@code stack} where there is a trace. Nothing else: arguments apart from the message and what threads carry along would be what
 * nobody has looked at for secrets.
 *
 * <p>Everything outside ASCII is escaped, so that what some readers take for the end of a line (U+0085, U+2028) is none.
 */
public final class JsonLine extends EncoderBase<ILoggingEvent> {
    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH:mm:ss.SSS'Z'").withZone(ZoneOffset.UTC);
    private static final byte[] NOTHING = {};

    private final JsonFactory json =
            JsonFactory.builder().enable(JsonWriteFeature.ESCAPE_NON_ASCII).build();

    @Override
    public byte[] headerBytes() {
        return NOTHING;
    }

    @Override
    public byte[] encode(ILoggingEvent event) {
        ByteArrayOutputStream line = new ByteArrayOutputStream(256);
        try (JsonGenerator out = json.createGenerator(ObjectWriteContext.empty(), line)) {
            out.writeStartObject();
            out.writeStringProperty("time", TIME.format(Instant.ofEpochMilli(event.getTimeStamp())));
            out.writeStringProperty("level", event.getLevel().toString());
            out.writeStringProperty("logger", event.getLoggerName());
            out.writeStringProperty("thread", event.getThreadName());
            out.writeStringProperty("message", event.getFormattedMessage());
            IThrowableProxy thrown = event.getThrowableProxy();
            if (thrown != null) {
                out.writeStringProperty("stack", ThrowableProxyUtil.asString(thrown));
            }
            out.writeEndObject();
        }
        line.write('\n');
        return line.toByteArray();
    }

    @Override
    public byte[] footerBytes() {
        return NOTHING;
    }
}
