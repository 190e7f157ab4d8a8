package dev.rimecast.history.state;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Map;
import java.util.TreeMap;

/** Values in a {@link StateFile}. */
public final class StateCodec {
    private StateCodec() {}

    public static void text(DataOutputStream out, String text) throws IOException {
        bytes(out, text.getBytes(StandardCharsets.UTF_8));
    }

    public static String text(DataInputStream in) throws IOException {
        return new String(bytes(in), StandardCharsets.UTF_8);
    }

    public static void bytes(DataOutputStream out, byte[] bytes) throws IOException {
        out.writeInt(bytes.length);
        out.write(bytes);
    }

    /**
     * As {@link #bytes(DataOutputStream, byte[])} wrote them.
     *
     * @throws IOException if fewer are there
     */
    public static byte[] bytes(DataInputStream in) throws IOException {
        int length = in.readInt();
        byte[] bytes = length < 0 ? new byte[0] : in.readNBytes(length);
        if (bytes.length != length) {
            throw new IOException("cut off");
        }
        return bytes;
    }

    public static void instant(DataOutputStream out, Instant at) throws IOException {
        out.writeLong(at.getEpochSecond());
        out.writeInt(at.getNano());
    }

    public static Instant instant(DataInputStream in) throws IOException {
        return Instant.ofEpochSecond(in.readLong(), in.readInt());
    }

    /** Parts of a monitor's state by their keys. */
    public static void states(DataOutputStream out, Map<String, byte[]> states) throws IOException {
        out.writeInt(states.size());
        for (Map.Entry<String, byte[]> state : states.entrySet()) {
            text(out, state.getKey());
            bytes(out, state.getValue());
        }
    }

    public static Map<String, byte[]> states(DataInputStream in) throws IOException {
        Map<String, byte[]> states = new TreeMap<>();
        for (int count = in.readInt(); count > 0; count--) {
            states.put(text(in), bytes(in));
        }
        return states;
    }
}
