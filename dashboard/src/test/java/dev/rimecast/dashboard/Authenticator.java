package dev.rimecast.dashboard;

import java.math.BigInteger;
import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/** What a person's authenticator does: codes by RFC 6238, written anew here; the vectors of that are in the test of the product's own. */
public final class Authenticator {
    private Authenticator() {}

    /**
     * The code of now.
     *
     * @param base32 the secret as the page shows it
     */
    public static String code(String base32) throws GeneralSecurityException {
        return code(base32, 0);
    }

    /** The code that it shows after that of now: a server takes it, since clocks differ, and it was not used before. */
    public static String next(String base32) throws GeneralSecurityException {
        return code(base32, 1);
    }

    private static String code(String base32, int later) throws GeneralSecurityException {
        BigInteger bits = BigInteger.ZERO;
        for (char letter : base32.toCharArray()) {
            bits = bits.shiftLeft(5).or(BigInteger.valueOf("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".indexOf(letter)));
        }
        byte[] secret = new byte[base32.length() * 5 / 8];
        for (int i = secret.length - 1; i >= 0; i--) {
            secret[i] = bits.byteValue();
            bits = bits.shiftRight(8);
        }
        Mac mac = Mac.getInstance("HmacSHA1");
        mac.init(new SecretKeySpec(secret, "RAW"));
        byte[] hash = mac.doFinal(ByteBuffer.allocate(8)
                .putLong(System.currentTimeMillis() / 30_000 + later)
                .array());
        int number = ByteBuffer.wrap(hash, hash[19] & 0xf, 4).getInt() & 0x7fffffff;
        return "%06d".formatted(number % 1_000_000);
    }
}
