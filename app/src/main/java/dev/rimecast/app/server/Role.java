package dev.rimecast.app.server;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** A stage that a process can run. One machine runs all of them. */
public enum Role {
    INGEST,
    ANALYTICS,
    ALERTS,
    HISTORY,
    DASHBOARD;

    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    public static Optional<Role> ofCode(String code) {
        for (Role role : values()) {
            if (role.code().equals(code)) {
                return Optional.of(role);
            }
        }
        return Optional.empty();
    }

    public static Set<Role> all() {
        return EnumSet.allOf(Role.class);
    }
}
