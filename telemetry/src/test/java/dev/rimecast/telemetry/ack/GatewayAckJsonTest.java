package dev.rimecast.telemetry.ack;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.PackNumber;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class GatewayAckJsonTest {
    private static final GatewayAck ACK = new GatewayAck("gw-1", new PackNumber("b \"1\"", Long.MAX_VALUE), 3);

    @Test
    void topicRecord_isAsPublished_andReadsBack() {
        byte[] bytes = GatewayAckJson.encode(ACK);

        assertThat(text(bytes))
                .isEqualTo(
                        "{\"v\":1,\"gateway\":\"gw-1\",\"boot\":\"b \\\"1\\\"\",\"seq\":9223372036854775807,\"missing\":3}");
        assertThat(GatewayAckJson.decode(bytes)).isEqualTo(ACK);
    }

    @Test
    void payload_isTheContracts_andReadsBack() {
        byte[] bytes = GatewayAckJson.payload(new PackNumber("b1", 17));

        assertThat(text(bytes)).isEqualTo("{\"boot\":\"b1\",\"seq\":17}");
        assertThat(GatewayAckJson.readPayload(bytes)).isEqualTo(new PackNumber("b1", 17));
    }

    @Test
    void payload_withMoreMembers_isRead() {
        assertThat(GatewayAckJson.readPayload(bytes("{\"later\":[1],\"seq\":2,\"boot\":\"b\"}")))
                .isEqualTo(new PackNumber("b", 2));
    }

    @Test
    void nonsense_isMalformed() {
        for (String bad : new String[] {
            "",
            "{}",
            "[]",
            "{\"boot\":\"b\"}",
            "{\"boot\":\"b\",\"seq\":0}",
            "{\"boot\":\"b\",\"seq\":1.5}",
            "{\"boot\":\"b\",\"seq\":9223372036854775808}",
            "{\"boot\":\"\",\"seq\":1}"
        }) {
            assertThatThrownBy(() -> GatewayAckJson.readPayload(bytes(bad)))
                    .as(bad)
                    .isInstanceOf(MalformedRecordException.class);
        }
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.UTF_8);
    }
}
