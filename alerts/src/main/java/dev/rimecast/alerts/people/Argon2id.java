package dev.rimecast.alerts.people;

import com.password4j.Argon2Function;
import com.password4j.Password;
import com.password4j.types.Argon2;
import java.security.SecureRandom;
import java.util.concurrent.Semaphore;

/**
 * Argon2id (RFC 9106) with the least parameters of the OWASP Password Storage Cheat Sheet, in the PHC text form. A hash
 * takes 19 MiB and about 0.1 s, so only a few are computed at once; others wait for them.
 */
final class Argon2id implements PasswordHasher {
    /** OWASP Password Storage Cheat Sheet, Argon2id: m = 19456 (19 MiB), t = 2, p = 1. */
    static final int MEMORY_KIBIBYTES = 19_456;

    static final int ITERATIONS = 2;
    static final int PARALLELISM = 1;
    /** RFC 9106 section 3.1: a salt of 16 bytes is recommended for password hashing. */
    static final int SALT_BYTES = 16;

    static final int HASH_BYTES = 32;

    private static final int AT_ONCE = 2;

    private final Argon2Function function = Argon2Function.getInstance(
            MEMORY_KIBIBYTES, ITERATIONS, PARALLELISM, HASH_BYTES, Argon2.ID, Argon2Function.ARGON2_VERSION_13);
    private final SecureRandom random = new SecureRandom();
    private final Semaphore places = new Semaphore(AT_ONCE, true);

    @Override
    public String hash(String password) {
        byte[] salt = new byte[SALT_BYTES];
        random.nextBytes(salt);
        places.acquireUninterruptibly();
        try {
            return Password.hash(password).addSalt(salt).with(function).getResult();
        } finally {
            places.release();
        }
    }

    @Override
    public boolean matches(String password, String hash) {
        Argon2Function as = Argon2Function.getInstanceFromHash(hash);
        places.acquireUninterruptibly();
        try {
            return Password.check(password, hash).with(as);
        } finally {
            places.release();
        }
    }

    @Override
    public boolean isOutdated(String hash) {
        Argon2Function as = Argon2Function.getInstanceFromHash(hash);
        return as.getVariant() != Argon2.ID
                || as.getMemory() < MEMORY_KIBIBYTES
                || as.getIterations() < ITERATIONS
                || as.getOutputLength() < HASH_BYTES;
    }
}
