package dev.rimecast.alerts.notice;

import java.nio.charset.StandardCharsets;
import java.security.InvalidKeyException;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * A shared secret of Standard Webhooks 1.0.0 ("Signature scheme", symmetric): {@code whsec_} and 24 to 64 bytes in
 * Base64. Signs {@code id.timestamp.body} with HMAC-SHA256.
 */
public final class WebhookSecret {
    private static final String PREFIX = "whsec_";
    private static final int FEWEST_BYTES = 24;
    private static final int MOST_BYTES = 64;

    private final byte[] key;

    private WebhookSecret(byte[] key) {
        this.key = key;
    }

    /** @throws IllegalArgumentException if it is none; the message does not hold the secret */
    public static WebhookSecret parse(String text) {
        if (!text.startsWith(PREFIX)) {
            throw new IllegalArgumentException("must begin with " + PREFIX);
        }
        byte[] key;
        try {
            key = Base64.getDecoder().decode(text.substring(PREFIX.length()));
        } catch (IllegalArgumentException e) {
            throw new IllegalArgumentException("must be Base64 after " + PREFIX, e);
        }
        if (key.length < FEWEST_BYTES || key.length > MOST_BYTES) {
            throw new IllegalArgumentException(
                    "must hold " + FEWEST_BYTES + " to " + MOST_BYTES + " bytes, holds " + key.length);
        }
        return new WebhookSecret(key);
    }

    /** One entry of the header {@code webhook-signature}. */
    public String sign(String id, long timestampSeconds, byte[] body) {
        try {
            Mac mac = Mac.getInstance("HmacSHA256");
            mac.init(new SecretKeySpec(key, "HmacSHA256"));
            mac.update((id + '.' + timestampSeconds + '.').getBytes(StandardCharsets.UTF_8));
            return "v1," + Base64.getEncoder().encodeToString(mac.doFinal(body));
        } catch (NoSuchAlgorithmException | InvalidKeyException e) {
            throw new IllegalStateException("every Java platform has HmacSHA256", e);
        }
    }

    /** Nothing of the secret. */
    @Override
    public String toString() {
        return "WebhookSecret[…]";
    }
}
