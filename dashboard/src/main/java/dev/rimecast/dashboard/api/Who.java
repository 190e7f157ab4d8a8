package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Person;

/** The one place where it is said who acts. There are no accounts yet: it is the name that the person typed. */
final class Who {
    private static final int LONGEST_NAME = 60;
    private static final String NO_NAME = "somebody";

    private Who() {}

    static Person of(Body body) {
        String name = body.text("by", LONGEST_NAME);
        return new Person(name.isEmpty() ? NO_NAME : name);
    }
}
