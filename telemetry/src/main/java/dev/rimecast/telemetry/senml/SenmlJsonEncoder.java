package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.Reading;
import java.io.ByteArrayOutputStream;
import java.math.BigDecimal;
import java.util.List;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.json.JsonFactory;

/** Readings to SenML JSON, as a gateway would send them. */
public final class SenmlJsonEncoder {
    private static final JsonFactory JSON = new JsonFactory();

    private SenmlJsonEncoder() {}

    /**
     * One pack in UTF-8, in the order of the readings; those of one machine should stand together.
     *
     * @throws IllegalArgumentException if there is none or more than {@value SenmlPack#MAX_RECORDS}, or a time before
     *     2^28 s
     */
    public static byte[] encode(List<Reading> readings) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(64 + 56 * readings.size());
        try (JsonGenerator out = JSON.createGenerator(ObjectWriteContext.empty(), bytes)) {
            out.writeStartArray();
            PackLayout.lay(readings, (reading, newBase, offsetMillis) -> {
                out.writeStartObject();
                if (newBase) {
                    out.writeStringProperty("bn", reading.machine() + '/');
                    out.writeName("bt");
                    out.writeNumber(seconds(reading.timeMillis()));
                }
                out.writeStringProperty("n", reading.channel().code());
                if (offsetMillis != 0) {
                    out.writeName("t");
                    out.writeNumber(seconds(offsetMillis));
                }
                writeValue(out, reading);
                out.writeEndObject();
            });
            out.writeEndArray();
        }
        return bytes.toByteArray();
    }

    private static void writeValue(JsonGenerator out, Reading reading) {
        switch (reading.channel().kind()) {
            case NUMBER, DURATION, COUNTER -> {
                out.writeStringProperty("u", reading.channel().unit());
                out.writeName("v");
                out.writeNumber(number(reading.value()));
            }
            case FLAG -> out.writeBooleanProperty("vb", reading.isSet());
            case PHASE -> out.writeStringProperty("vs", reading.phase().code());
            case TEXT -> out.writeStringProperty("vs", reading.text());
        }
    }

    private static String seconds(long millis) {
        return BigDecimal.valueOf(millis, 3).stripTrailingZeros().toPlainString();
    }

    /** Whole numbers without a fraction; an exponent in lower case, as RFC 8428 section 5 demands. */
    private static String number(double value) {
        long whole = (long) value;
        boolean isWhole = Double.doubleToRawLongBits(whole) == Double.doubleToRawLongBits(value);
        return isWhole ? Long.toString(whole) : Double.toString(value).replace('E', 'e');
    }
}
