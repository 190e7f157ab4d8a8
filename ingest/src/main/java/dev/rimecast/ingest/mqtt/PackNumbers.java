package dev.rimecast.ingest.mqtt;

import dev.rimecast.telemetry.log.PackNumber;
import io.netty.handler.codec.mqtt.MqttProperties;
import java.util.Optional;

/** Reads a gateway's own count from the MQTT 5 user properties {@code boot} and {@code seq}. */
final class PackNumbers {
    /** Digits of the largest long, 9223372036854775807. */
    private static final int MAX_DIGITS = 19;

    /**
     * @param number empty where there is none, or none that can be read
     * @param problem what is wrong with it, for a person; empty where nothing is
     */
    record Result(Optional<PackNumber> number, Optional<String> problem) {}

    private static final Result NONE = new Result(Optional.empty(), Optional.empty());

    private PackNumbers() {}

    static Result read(MqttProperties properties) {
        Optional<String> boot = Optional.empty();
        Optional<String> seq = Optional.empty();
        for (MqttProperties.MqttProperty<?> property : properties.getProperties(MqttProperties.USER_PROPERTY)) {
            if (property.value() instanceof MqttProperties.StringPair pair) {
                if (pair.key.equals("boot")) {
                    if (boot.isPresent()) {
                        return bad("boot is given twice");
                    }
                    boot = Optional.of(pair.value);
                } else if (pair.key.equals("seq")) {
                    if (seq.isPresent()) {
                        return bad("seq is given twice");
                    }
                    seq = Optional.of(pair.value);
                }
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
        if (digits.isEmpty() || digits.length() > MAX_DIGITS || !digits.chars().allMatch(c -> c >= '0' && c <= '9')) {
            return bad("seq is not a whole number");
        }
        try {
            return new Result(Optional.of(new PackNumber(boot.get(), Long.parseLong(digits))), Optional.empty());
        } catch (IllegalArgumentException outOfRange) {
            return bad("boot must have 1 to 64 characters, seq must be 1 to 9223372036854775807");
        }
    }

    private static Result bad(String problem) {
        return new Result(Optional.empty(), Optional.of(problem));
    }
}
