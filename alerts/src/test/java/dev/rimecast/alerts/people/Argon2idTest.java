package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class Argon2idTest {
    /** From test.c of the reference implementation (github.com/P-H-C/phc-winner-argon2), Argon2id, m = 65536, t = 2, p = 1. */
    private static final String OF_THE_REFERENCE =
            "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc";

    private final Argon2id hasher = new Argon2id();

    @Test
    void matches_hashOfTheReferenceImplementation_knowsItsPassword() {
        assertThat(hasher.matches("password", OF_THE_REFERENCE)).isTrue();
        assertThat(hasher.matches("passwore", OF_THE_REFERENCE)).isFalse();
    }

    /** OWASP Password Storage Cheat Sheet: Argon2id with at least m = 19456, t = 2, p = 1. */
    @Test
    void hash_ofAPassword_namesTheParametersAndHasASaltOfItsOwn() {
        String one = hasher.hash("a long enough phrase");
        String other = hasher.hash("a long enough phrase");

        assertThat(one).startsWith("$argon2id$v=19$m=19456,t=2,p=1$").isNotEqualTo(other);
        assertThat(hasher.matches("a long enough phrase", one)).isTrue();
        assertThat(hasher.matches("a long enough phrasE", one)).isFalse();
    }

    @Test
    void isOutdated_weakerParameters_says() {
        assertThat(hasher.isOutdated(hasher.hash("x"))).isFalse();
        assertThat(hasher.isOutdated(OF_THE_REFERENCE)).as("stronger ones stay").isFalse();
        assertThat(hasher.isOutdated(OF_THE_REFERENCE.replace("m=65536", "m=4096")))
                .isTrue();
    }
}
