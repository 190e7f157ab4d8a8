package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.http.Problem;
import java.util.Optional;
import java.util.UUID;

/** Identifiers in requests; what is none is as little there as one that nobody has. */
final class Identifier {
    private Identifier() {}

    /** @param what e.g. {@code account} */
    static UUID of(String text, String what) {
        try {
            return UUID.fromString(text);
        } catch (IllegalArgumentException e) {
            throw Problem.notFound("That is not the identifier of a " + what + '.')
                    .asException();
        }
    }

    /** Empty where the text is none. */
    static Optional<UUID> parse(String text) {
        try {
            return Optional.of(UUID.fromString(text));
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    static RuntimeException unknown(String what, UUID id) {
        return Problem.notFound("No " + what + ' ' + id + '.').asException();
    }
}
