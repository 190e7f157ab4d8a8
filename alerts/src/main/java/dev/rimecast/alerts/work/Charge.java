package dev.rimecast.alerts.work;

import java.util.Locale;
import java.util.Optional;

/** Who pays for work. */
public enum Charge {
    CHARGEABLE,
    WARRANTY;

    private final String code = name().toLowerCase(Locale.ROOT);

    public String code() {
        return code;
    }

    public static Optional<Charge> ofCode(String code) {
        for (Charge charge : values()) {
            if (charge.code.equals(code)) {
                return Optional.of(charge);
            }
        }
        return Optional.empty();
    }
}
