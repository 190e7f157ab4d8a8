package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.Reading;
import java.util.List;

/** Readings to SenML CBOR, as a gateway would send them: about two thirds of the JSON. */
public final class SenmlCborEncoder {
    private static final int BASE_NAME = -2;
    private static final int BASE_TIME = -3;
    private static final int NAME = 0;
    private static final int UNIT = 1;
    private static final int VALUE = 2;
    private static final int TEXT_VALUE = 3;
    private static final int FLAG_VALUE = 4;
    private static final int TIME = 6;

    private SenmlCborEncoder() {}

    /**
     * One pack, in the order of the readings; those of one machine should stand together.
     *
     * @throws IllegalArgumentException if there is none or more than {@value SenmlPack#MAX_RECORDS}, or a time before
     *     2^28 s
     */
    public static byte[] encode(List<Reading> readings) {
        CborWriter out = new CborWriter(64 + 40 * readings.size());
        out.array(readings.size());
        PackLayout.lay(readings, (reading, newBase, offsetMillis) -> {
            String unit = reading.channel().unit();
            out.map(2 + (newBase ? 2 : 0) + (offsetMillis != 0 ? 1 : 0) + (unit.isEmpty() ? 0 : 1));
            if (newBase) {
                out.integer(BASE_NAME);
                out.text(reading.machine() + '/');
                out.integer(BASE_TIME);
                out.number(reading.timeMillis() / 1000.0);
            }
            out.integer(NAME);
            out.text(reading.channel().code());
            if (offsetMillis != 0) {
                out.integer(TIME);
                out.number(offsetMillis / 1000.0);
            }
            if (!unit.isEmpty()) {
                out.integer(UNIT);
                out.text(unit);
            }
            writeValue(out, reading);
        });
        return out.toBytes();
    }

    private static void writeValue(CborWriter out, Reading reading) {
        switch (reading.channel().kind()) {
            case NUMBER, DURATION, COUNTER -> {
                out.integer(VALUE);
                out.number(reading.value());
            }
            case FLAG -> {
                out.integer(FLAG_VALUE);
                out.flag(reading.isSet());
            }
            case PHASE -> {
                out.integer(TEXT_VALUE);
                out.text(reading.phase().code());
            }
            case TEXT -> {
                out.integer(TEXT_VALUE);
                out.text(reading.text());
            }
        }
    }
}
