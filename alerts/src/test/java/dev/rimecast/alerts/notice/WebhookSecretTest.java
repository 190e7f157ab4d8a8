package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.Base64;
import org.junit.jupiter.api.Test;

class WebhookSecretTest {

    /**
     * The example vector that the reference libraries of the Standard Webhooks specification 1.0.0 publish
     * (github.com/standard-webhooks/standard-webhooks, test "sign function works" of its libraries).
     */
    @Test
    void sign_publishedExample_isThePublishedSignature() {
        WebhookSecret secret = WebhookSecret.parse("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw");
        String signature = secret.sign(
                "msg_p5jXN8AQM9LWM0D4loKWxJek",
                1_614_265_330,
                "{\"test\": 2432232314}".getBytes(StandardCharsets.UTF_8));
        assertThat(signature).isEqualTo("v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=");
    }

    /** 24 to 64 bytes: Standard Webhooks 1.0.0, "Signature scheme". */
    @Test
    void parse_whatIsNoSecret_isRefusedWithoutSayingIt() {
        assertThatThrownBy(() -> WebhookSecret.parse("hush")).hasMessage("must begin with whsec_");
        assertThatThrownBy(() -> WebhookSecret.parse("whsec_%%%")).hasMessage("must be Base64 after whsec_");
        assertThatThrownBy(() -> WebhookSecret.parse("whsec_" + bytes(23))).hasMessageContaining("holds 23");
        assertThatThrownBy(() -> WebhookSecret.parse("whsec_" + bytes(65))).hasMessageContaining("holds 65");
        assertThat(WebhookSecret.parse("whsec_" + bytes(64))).hasToString("WebhookSecret[…]");
    }

    private static String bytes(int count) {
        return Base64.getEncoder().encodeToString(new byte[count]);
    }
}
