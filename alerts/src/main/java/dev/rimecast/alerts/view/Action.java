package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** What a person does with one alert. */
public sealed interface Action {

    /** Says that somebody has seen it. */
    record Acknowledge(String note) implements Action {}

    /** Gives it to somebody, who then has it; to nobody takes it from whoever had it. */
    record Assign(Optional<String> assignee, String note) implements Action {}

    /** Puts it into another open case of its site: the rules leave it there from then on. */
    record Join(UUID caseId, String reason) implements Action {}

    /** Takes it out of its case, into one of its own: the rules leave it there from then on. */
    record Part(String reason) implements Action {}

    /** Says that what made a latched alert was looked at. */
    record Reset(String note) implements Action {}

    /** Puts it aside for a while; alerts of the same condition on the same machine too, until then. */
    record Shelve(String reason, Instant until) implements Action {}

    /** Takes this condition of this machine out of service, until somebody returns it. */
    record TakeOutOfService(String reason, String permittedBy) implements Action {}
}
