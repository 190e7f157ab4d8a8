package dev.rimecast.alerts.people;

import java.util.Locale;

/** Whose accounts must have a second factor. Until such an account has one, it can do nothing but add it. */
public enum FactorRule {
    /** Nobody's; whoever wants one has one. */
    OPTIONAL,
    ADMINISTRATORS,
    EVERYBODY;

    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** Accounts of a demonstration have no first factor, so no second one. */
    boolean asks(Account account) {
        return !account.isDemo()
                && switch (this) {
                    case OPTIONAL -> false;
                    case ADMINISTRATORS -> account.role() == Role.ADMINISTRATOR;
                    case EVERYBODY -> true;
                };
    }
}
