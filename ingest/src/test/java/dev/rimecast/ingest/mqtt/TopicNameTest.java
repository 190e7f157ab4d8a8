package dev.rimecast.ingest.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.ingest.intake.PayloadFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TopicNameTest {

    @Test
    void topics_ofTheContract_areRead() {
        assertThat(TopicName.parse("fleet/gw-1/senml")).isEqualTo(new TopicName.Packs("gw-1", PayloadFormat.JSON));
        assertThat(TopicName.parse("fleet/gw-1/senml-cbor")).isEqualTo(new TopicName.Packs("gw-1", PayloadFormat.CBOR));
        assertThat(TopicName.parse("fleet/gw-1/presence")).isEqualTo(new TopicName.Presence("gw-1"));
        assertThat(TopicName.parse("fleet/gw-1/ack")).isEqualTo(new TopicName.Ack("gw-1"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "fleet",
                "fleet/",
                "fleet/gw-1",
                "fleet//senml",
                "fleet/GW/senml",
                "fleet/+/ack",
                "fleet/#",
                "#",
                "fleet/gw-1/senml/x",
                "Fleet/gw-1/senml",
                "fleet/gw-1/",
                "$SYS/x",
                "fleet/../senml",
                "fleet/unknown/senml",
                "fleet/unknown/senml-cbor",
                "fleet/unknown/presence",
                "fleet/unknown/ack"
            })
    void anythingElse_isUnknown(String topic) {
        assertThat(TopicName.parse(topic)).isEqualTo(new TopicName.Unknown());
    }
}
