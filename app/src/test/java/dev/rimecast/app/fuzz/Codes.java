package dev.rimecast.app.fuzz;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.MemoryPeopleStore;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.SignIn;
import dev.rimecast.alerts.people.Visitor;
import java.time.Instant;

/** An account that waits for the first code of its device, again and again. */
final class Codes {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final String PHRASE = "seven herons at the quay";
    private static final String HERE = "127.0.0.1";

    private final People people;
    private final Visitor visitor;

    Codes() {
        people = People.of(new MemoryPeopleStore(), () -> NOW);
        Account account = done(people.links().setUp(people.links().setUp().orElseThrow(), "Ada", PHRASE));
        SignIn.Outcome in = people.signIn().withPassword("Ada", PHRASE, HERE, "a device");
        visitor = people.entrance()
                .bySession(((SignIn.Outcome.In) in).sessionToken())
                .orElseThrow();
        done(people.proposeFactor(account, PHRASE, HERE));
    }

    private static <T> T done(Answer<T> answer) {
        return ((Answer.Done<T>) answer).value();
    }

    /** Whether it is the code of now; there are three in a million. */
    boolean taken(String code) {
        return people.factors().confirm(visitor, code) instanceof Answer.Done;
    }
}
