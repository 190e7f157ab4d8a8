package dev.rimecast.app.faults;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * A message of which something can't be taken, one of every kind.
 *
 * @param isNumbered whether it goes out with a number of its gateway's count, and so must be covered
 */
@SuppressWarnings("ArrayRecordComponent") // carried, never compared
record Poison(String what, String topic, byte[] payload, boolean isNumbered) {
    private static final int DEEP = 10_000;
    private static final int RECORDS_MAX = 500;

    static List<Poison> ofEveryKind(String gateway, String machine, Instant now) {
        String temperature = "\"n\":\"" + machine + "/evaporator_temperature\",\"u\":\"Cel\"";
        List<Poison> all = new ArrayList<>();
        String json = "fleet/" + gateway + "/senml";
        all.add(numbered("JSON that ends too early", json, "[{" + temperature + ",\"v\":"));
        all.add(numbered("no array", json, "{" + temperature + ",\"v\":1}"));
        all.add(numbered("nested " + DEEP + " deep", json, "[".repeat(DEEP)));
        all.add(numbered("NaN", json, "[{" + temperature + ",\"v\":NaN}]"));
        all.add(numbered("beyond a double", json, "[{" + temperature + ",\"v\":1e999}]"));
        all.add(numbered("time of 2^63 s", json, "[{" + temperature + ",\"bt\":9223372036854775808,\"v\":1}]"));
        all.add(numbered("text for a number", json, "[{" + temperature + ",\"vs\":\"cold\"}]"));
        all.add(numbered(
                "unit of another quantity", json, "[{\"n\":\"" + machine + "/supply_current\",\"u\":\"kg\",\"v\":1}]"));
        all.add(numbered(
                "Fahrenheit", json, "[{\"n\":\"" + machine + "/water_temperature\",\"u\":\"Fahrenheit\",\"v\":50}]"));
        all.add(numbered("channel that is none", json, "[{\"n\":\"" + machine + "/mood\",\"v\":1}]"));
        all.add(numbered("name that is none", json, "[{\"n\":\"nobody\",\"v\":1}]"));
        all.add(numbered(
                "machine of another gateway",
                json,
                "[{\"n\":\"harbour-1/evaporator_temperature\",\"u\":\"Cel\",\"v\":1}]"));
        all.add(numbered("clock a year fast", json, at(temperature, now.plus(Duration.ofDays(365)))));
        all.add(numbered("clock never set", json, at(temperature, Instant.ofEpochSecond(86_400))));
        all.add(numbered(
                "more records than are taken",
                json,
                "[" + ("{" + temperature + ",\"v\":1},").repeat(RECORDS_MAX) + "{" + temperature + ",\"v\":1}]"));
        byte[] noText =
                ("[{\"n\":\"" + machine + "/controller_status\",\"vs\":\"??\"}]").getBytes(StandardCharsets.UTF_8);
        noText[noText.length - 5] = (byte) 0xC3;
        noText[noText.length - 4] = (byte) 0x28;
        all.add(new Poison("no UTF-8", json, noText, true));
        all.add(new Poison("no CBOR", json + "-cbor", new byte[] {(byte) 0x9F, (byte) 0xFF, 0x00, 0x1C}, true));
        all.add(new Poison("presence that is none", "fleet/" + gateway + "/presence", bytes("perhaps"), false));
        all.add(new Poison("topic of another gateway", "fleet/gw-ward/senml", bytes(at(temperature, now)), false));
        all.add(new Poison("topic that is none", "weather/today", bytes("warm"), false));
        return all;
    }

    private static String at(String record, Instant time) {
        return "[{\"bt\":" + time.getEpochSecond() + "," + record + ",\"v\":2}]";
    }

    private static Poison numbered(String what, String topic, String payload) {
        return new Poison(what, topic, bytes(payload), true);
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
