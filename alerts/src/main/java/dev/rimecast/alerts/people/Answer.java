package dev.rimecast.alerts.people;

/** How a request to change something about people ended. */
public sealed interface Answer<T> {
    record Done<T>(T value) implements Answer<T> {}

    /** There is none, or none that the asker may know of. */
    record NotFound<T>() implements Answer<T> {}

    /** @param reason in words for the asker */
    record Refused<T>(String reason) implements Answer<T> {}
}
