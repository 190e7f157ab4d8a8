package dev.rimecast.ingest.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.log.PackNumber;
import io.netty.handler.codec.mqtt.MqttProperties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PackNumbersTest {

    @Test
    void bootAndSeq_amongOtherProperties_areTheNumber() {
        assertThat(read("traceparent=00-1", "seq=9223372036854775807", "boot=2026-05"))
                .isEqualTo(new PackNumbers.Result(
                        java.util.Optional.of(new PackNumber("2026-05", Long.MAX_VALUE)), java.util.Optional.empty()));
    }

    @Test
    void none_isNoProblem() {
        PackNumbers.Result result = read("traceparent=00-1");
        assertThat(result.number()).isEmpty();
        assertThat(result.problem()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({
        "seq=1, x=y, seq without boot",
        "boot=b, x=y, boot without seq",
        "boot=b, seq=0, 'boot must have 1 to 64 characters, seq must be 1 to 9223372036854775807'",
        "boot=, seq=1, 'boot must have 1 to 64 characters, seq must be 1 to 9223372036854775807'",
        "boot=b, seq=9223372036854775808, 'boot must have 1 to 64 characters, seq must be 1 to 9223372036854775807'",
        "boot=b, seq=-1, seq is not a whole number",
        "boot=b, seq=1e3, seq is not a whole number",
        "boot=b, seq=, seq is not a whole number",
        "boot=b, seq=١٢, seq is not a whole number",
        "boot=b, boot=c, boot is given twice",
    })
    void bad_saysWhatIsWrong(String one, String two, String problem) {
        PackNumbers.Result result = read(one, two);
        assertThat(result.number()).isEmpty();
        assertThat(result.problem()).contains(problem);
    }

    private static PackNumbers.Result read(String... pairs) {
        MqttProperties properties = new MqttProperties();
        MqttProperties.UserProperties user = new MqttProperties.UserProperties();
        for (String pair : pairs) {
            user.add(pair.substring(0, pair.indexOf('=')), pair.substring(pair.indexOf('=') + 1));
        }
        properties.add(user);
        return PackNumbers.read(properties);
    }
}
