package dev.rimecast.benchmarks.load;

import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;

/**
 * The bytes of one PUBLISH (MQTT 5, QoS 1) of the recorded site, numbered as the contract wants it. What differs between two
 * clones, and between two packs of one gateway, stands at fixed places: making a packet is a copy and a few digits.
 */
final class Template {
    private static final int SEQ_DIGITS = 12;
    private static final int PUBLISH_QOS1 = 0x32;
    private static final int USER_PROPERTY = 0x26;

    private final byte[] packet;
    private final int[] places;
    private final int idAt;
    private final int seqAt;
    private final long atMillis;

    private Template(byte[] packet, int idAt, int seqAt, long atMillis) {
        this.packet = packet;
        this.places = Clone.places(packet);
        this.idAt = idAt;
        this.seqAt = seqAt;
        this.atMillis = atMillis;
    }

    static Template of(LearnedSite.Pack pack, String boot) {
        byte[] payload = SenmlJsonEncoder.encode(pack.readings());
        ByteArrayOutputStream properties = new ByteArrayOutputStream();
        property(properties, "boot", boot);
        property(properties, "seq", "0".repeat(SEQ_DIGITS));
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        text(body, "fleet/" + Clone.gateway(0) + "/senml");
        int idInBody = body.size();
        body.write(0);
        body.write(0);
        variable(body, properties.size());
        body.writeBytes(properties.toByteArray());
        int seqInBody = body.size() - SEQ_DIGITS;
        body.writeBytes(payload);
        ByteArrayOutputStream packet = new ByteArrayOutputStream();
        packet.write(PUBLISH_QOS1);
        variable(packet, body.size());
        int header = packet.size();
        packet.writeBytes(body.toByteArray());
        return new Template(packet.toByteArray(), header + idInBody, header + seqInBody, pack.atMillis());
    }

    long atMillis() {
        return atMillis;
    }

    int bytes() {
        return packet.length;
    }

    /**
     * A packet of its own.
     *
     * @param clone from 0
     * @param seq of the gateway, from 1
     */
    byte[] of(int clone, int packetId, long seq) {
        byte[] copy = packet.clone();
        Clone.write(copy, places, clone);
        copy[idAt] = (byte) (packetId >> 8);
        copy[idAt + 1] = (byte) packetId;
        long rest = seq;
        for (int at = seqAt + SEQ_DIGITS - 1; at >= seqAt; at--) {
            copy[at] = (byte) ('0' + rest % 10);
            rest /= 10;
        }
        return copy;
    }

    /** CONNECT of MQTT 5: clean start, no keep-alive, receives at most 1,000 at a time. */
    static byte[] connect(String client) {
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        text(body, "MQTT");
        body.write(5);
        body.write(0x02);
        body.write(0);
        body.write(0);
        body.write(0);
        text(body, client);
        ByteArrayOutputStream packet = new ByteArrayOutputStream();
        packet.write(0x10);
        variable(packet, body.size());
        packet.writeBytes(body.toByteArray());
        return packet.toByteArray();
    }

    private static void property(ByteArrayOutputStream out, String key, String value) {
        out.write(USER_PROPERTY);
        text(out, key);
        text(out, value);
    }

    private static void text(ByteArrayOutputStream out, String text) {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        out.writeBytes(ByteBuffer.allocate(2).putShort((short) bytes.length).array());
        out.writeBytes(bytes);
    }

    /** Variable byte integer of MQTT 5, section 1.5.5. */
    private static void variable(ByteArrayOutputStream out, int value) {
        int rest = value;
        while (rest > 0x7F) {
            out.write(rest & 0x7F | 0x80);
            rest >>>= 7;
        }
        out.write(rest);
    }
}
