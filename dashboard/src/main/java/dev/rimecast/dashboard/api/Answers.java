package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.dashboard.http.Problem;
import java.util.Map;

/** What an answer about people is over HTTP. */
final class Answers {
    private Answers() {}

    /** @param missing what is said where there is none */
    static <T> T done(Answer<T> answer, String missing) {
        if (answer instanceof Answer.Done<T> done) {
            return done.value();
        }
        if (answer instanceof Answer.Refused<T> refused) {
            throw new Problem(409, "not-possible", "That is not possible", refused.reason(), Map.of()).asException();
        }
        throw Problem.notFound(missing).asException();
    }
}
