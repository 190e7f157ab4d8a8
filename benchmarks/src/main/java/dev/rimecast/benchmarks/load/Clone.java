package dev.rimecast.benchmarks.load;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * The recorded site under other names. Every identifier of it begins with {@link #FIRST}, which all clones have in the same
 * place and length, so that bytes that name it become those of a clone by writing over it.
 */
final class Clone {
    /** The recorded site itself. */
    static final String FIRST = name(0);

    private static final byte[] TOKEN = FIRST.getBytes(StandardCharsets.US_ASCII);

    private Clone() {}

    /** Identifier of clone {@code index}, from 0; its gateway and machines begin with it. */
    static String name(int index) {
        return String.format(Locale.ROOT, "s%06d", index);
    }

    static String gateway(int index) {
        return name(index) + "-gw";
    }

    /** Where {@link #FIRST} stands in these bytes. */
    static int[] places(byte[] bytes) {
        List<Integer> found = new ArrayList<>();
        for (int at = 0; at + TOKEN.length <= bytes.length; at++) {
            if (matches(bytes, at)) {
                found.add(at);
            }
        }
        return found.stream().mapToInt(Integer::intValue).toArray();
    }

    private static boolean matches(byte[] bytes, int at) {
        for (int i = 0; i < TOKEN.length; i++) {
            if (bytes[at + i] != TOKEN[i]) {
                return false;
            }
        }
        return true;
    }

    /** Writes the digits of clone {@code index} at each place. */
    static void write(byte[] bytes, int[] places, int index) {
        for (int place : places) {
            int rest = index;
            for (int at = place + TOKEN.length - 1; at > place; at--) {
                bytes[at] = (byte) ('0' + rest % 10);
                rest /= 10;
            }
        }
    }

    /** A copy for clone {@code index}. */
    static byte[] of(byte[] bytes, int index) {
        byte[] copy = bytes.clone();
        write(copy, places(copy), index);
        return copy;
    }
}
