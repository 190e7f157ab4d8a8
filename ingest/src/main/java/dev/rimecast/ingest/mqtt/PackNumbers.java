package dev.rimecast.ingest.mqtt;

import dev.rimecast.telemetry.log.PackNumber;
import io.netty.handler.codec.mqtt.MqttProperties;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads a gateway's own count from the MQTT 5 user properties {@code boot} and {@code seq}. */
public final class PackNumbers {
    /** Digits of the largest long, 9223372036854775807. */
    private static final int MAX_DIGITS = 19;

    /**
     * What was read.
     *
     * @param number empty where there is none, or none that can be read
     * @param problem what is wrong with it, for a person; empty where nothing is
     */
    public record Result(Optional<PackNumber> number, Optional<String> problem) {}

    /** One user property, as it came. */
    public record Property(String key, String value) {}

    private static final Result NONE = new Result(Optional.empty(), Optional.empty());

    private PackNumbers() {}

    static Result read(MqttProperties properties) {
        List<Property> pairs = new ArrayList<>();
        for (MqttProperties.MqttProperty<?> property : properties.getProperties(MqttProperties.USER_PROPERTY)) {
            if (property.value() instanceof MqttProperties.StringPair pair) {
                pairs.add(new Property(pair.key, pair.value));
            }
        }
        return read(pairs);
    }

    /** From the user properties of a message, in their order; those with other names are none of ours. */
    public static Result read(List<Property> properties) {
        Optional<String> boot = Optional.empty();
        Optional<String> seq = Optional.empty();
        for (Property property : properties) {
            if (property.key().equals("boot")) {
                if (boot.isPresent()) {
                    return bad("boot is given twice");
                }
                boot = Optional.of(property.value());
            } else if (property.key().equals("seq")) {
                if (seq.isPresent()) {
                    return bad("seq is given twice");
                }
                seq = Optional.of(property.value());
            }
        }
        return combine(boot, seq);
    }

    private static Result combine(Optional<String> boot, Optional<String> seq) {
        if (boot.isEmpty() && seq.isEmpty()) {
            return NONE;
        }
        if (boot.isEmpty() || seq.isEmpty()) {
            return bad(boot.isEmpty() ? "seq without boot" : "boot without seq");
        }
        String digits = seq.get();
        if (digits.isEmpty() || digits.length() > MAX_DIGITS || !isDigits(digits)) {
            return bad("seq is not a whole number");
        }
        try {
            return new Result(Optional.of(new PackNumber(boot.get(), Long.parseLong(digits))), Optional.empty());
        } catch (IllegalArgumentException outOfRange) {
            return bad("boot must have 1 to 64 characters, seq must be 1 to 9223372036854775807");
        }
    }

    private static boolean isDigits(String text) {
        for (int i = 0; i < text.length(); i++) {
            if (text.charAt(i) < '0' || text.charAt(i) > '9') {
                return false;
            }
        }
        return true;
    }

    private static Result bad(String problem) {
        return new Result(Optional.empty(), Optional.of(problem));
    }
}
