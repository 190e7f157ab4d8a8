package dev.rimecast.alerts.people;

import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.OptionalLong;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * One-time codes by time (RFC 6238) with what every authenticator program takes for granted: HMAC-SHA-1, steps of 30 s from 1970
 * on, six digits.
 */
final class Totp {
    static final Duration STEP = Duration.ofSeconds(30);
    static final int DIGITS = 6;
    /** RFC 4226 section 4, R6, recommends 160 bits. */
    static final int SECRET_BYTES = 20;

    private static final int MODULUS = 1_000_000;
    private static final String BASE32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    private Totp() {}

    static long step(Instant at) {
        return Math.floorDiv(at.getEpochSecond(), STEP.toSeconds());
    }

    /** RFC 4226 section 5.3: a number below 10^{@value #DIGITS}, with zeros in front. */
    static String code(byte[] secret, long step) {
        byte[] hash = hmac(secret, ByteBuffer.allocate(Long.BYTES).putLong(step).array());
        int offset = hash[hash.length - 1] & 0xf;
        int number = ByteBuffer.wrap(hash, offset, Integer.BYTES).getInt() & 0x7fffffff;
        return String.format(Locale.ROOT, "%0" + DIGITS + "d", number % MODULUS);
    }

    /**
     * The step whose code this is. One step each way is let pass, since clocks differ and typing takes time (RFC 6238 sections 5.2
     * and 6); empty where it is none of the three. All three are compared whichever fits.
     */
    static OptionalLong stepOf(byte[] secret, String code, Instant at) {
        OptionalLong found = OptionalLong.empty();
        long now = step(at);
        for (long step = now - 1; step <= now + 1; step++) {
            if (Secret.same(code(secret, step), code)) {
                found = OptionalLong.of(step);
            }
        }
        return found;
    }

    private static byte[] hmac(byte[] secret, byte[] message) {
        try {
            Mac mac = Mac.getInstance("HmacSHA1");
            mac.init(new SecretKeySpec(secret, "RAW"));
            return mac.doFinal(message);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("every Java has HMAC-SHA-1", e);
        }
    }

    /** RFC 4648 section 6, without padding. */
    static String base32(byte[] bytes) {
        StringBuilder text = new StringBuilder();
        int bits = 0;
        int held = 0;
        for (byte each : bytes) {
            held = held << 8 | each & 0xff;
            bits += 8;
            while (bits >= 5) {
                bits -= 5;
                text.append(BASE32.charAt(held >> bits & 31));
            }
            held &= (1 << bits) - 1;
        }
        if (bits > 0) {
            text.append(BASE32.charAt(held << 5 - bits & 31));
        }
        return text.toString();
    }
}
