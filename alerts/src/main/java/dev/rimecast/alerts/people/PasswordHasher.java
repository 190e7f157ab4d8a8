package dev.rimecast.alerts.people;

/** Turns passwords into what may be kept of them. */
interface PasswordHasher {

    /** With a new salt; the text holds all parameters. */
    String hash(String password);

    boolean matches(String password, String hash);

    /** Whether the hash was made with weaker parameters than those of today. */
    boolean isOutdated(String hash);
}
