package dev.rimecast.alerts.view;

/**
 * Who acts. There are no accounts yet: the name is what somebody typed.
 *
 * @param name never blank
 */
public record Person(String name) {
    public Person {
        if (name.isBlank()) {
            throw new IllegalArgumentException("a person needs a name");
        }
    }
}
