package dev.rimecast.alerts.view;

/**
 * Who acts: an account, or a rule of the product.
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
