package dev.rimecast.alerts.people;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** What somebody is to the firm. */
public enum Role {
    /** A screen on a wall, by a link; never a person. */
    SCREEN,
    VIEWER,
    OPERATOR,
    ENGINEER,
    MANAGER,
    ANALYST,
    ADMINISTRATOR;

    private final String code = name().toLowerCase(Locale.ROOT);

    public String code() {
        return code;
    }

    /** Whether an account can have it; otherwise only a link can. */
    public boolean isForPeople() {
        return this != SCREEN;
    }

    public static Optional<Role> ofCode(String code) {
        return Arrays.stream(values()).filter(role -> role.code.equals(code)).findFirst();
    }
}
