package dev.rimecast.ingest;

import java.nio.charset.StandardCharsets;
import java.time.Instant;

/** SenML packs for tests. */
final class Senml {
    private Senml() {}

    /** One evaporator temperature, °C. */
    static byte[] pack(String machine, Instant at, double celsius) {
        return ("[{\"bn\":\"" + machine + "/\",\"bt\":" + at.getEpochSecond()
                        + ",\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":" + celsius + "}]")
                .getBytes(StandardCharsets.UTF_8);
    }

    /** One evaporator temperature in a payload of at least {@code bytes}: blanks behind it, which JSON allows. */
    static byte[] padded(String machine, Instant at, int bytes) {
        return (new String(pack(machine, at, 1), StandardCharsets.UTF_8) + " ".repeat(bytes))
                .getBytes(StandardCharsets.UTF_8);
    }

    /** Eight readings of one machine, about 600 bytes: what a gateway sends. */
    static byte[] usual(String machine, Instant at) {
        return ("[{\"bn\":\"" + machine + "/\",\"bt\":" + at.getEpochSecond() + ",\"bver\":10,"
                        + "\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":-6.43},"
                        + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":41.81},"
                        + "{\"n\":\"ambient_temperature\",\"u\":\"Cel\",\"v\":23.12},"
                        + "{\"n\":\"water_temperature\",\"u\":\"Cel\",\"v\":14.55},"
                        + "{\"n\":\"supply_current\",\"u\":\"A\",\"v\":3.91},"
                        + "{\"n\":\"phase\",\"vs\":\"freeze\"},"
                        + "{\"n\":\"bin_full\",\"vb\":false},"
                        + "{\"n\":\"water_volume\",\"u\":\"m3\",\"v\":118.204}]")
                .getBytes(StandardCharsets.UTF_8);
    }
}
