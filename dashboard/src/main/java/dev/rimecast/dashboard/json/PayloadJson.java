package dev.rimecast.dashboard.json;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.Optional;

/**
 * The beginning of a payload, for a person.
 *
 * @param shown text, or bytes in hexadecimal where it is no text
 */
record PayloadJson(String shown, boolean isText) {
    private static final int MOST_BYTES = 8 * 1024;

    static PayloadJson of(byte[] payload) {
        Optional<String> text = text(payload).map(whole -> whole.substring(0, Math.min(whole.length(), MOST_BYTES)));
        return new PayloadJson(
                text.orElseGet(
                        () -> HexFormat.ofDelimiter(" ").formatHex(payload, 0, Math.min(payload.length, MOST_BYTES))),
                text.isPresent());
    }

    private static Optional<String> text(byte[] payload) {
        try {
            return Optional.of(StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(payload))
                    .toString());
        } catch (CharacterCodingException e) {
            return Optional.empty();
        }
    }
}
