package dev.rimecast.analytics.policy;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;

/** The policy of the resource, read once. */
final class StandardPolicy {
    static final Policy POLICY = PolicyReader.readStandard(text());

    private StandardPolicy() {}

    private static String text() {
        try (InputStream in = StandardPolicy.class.getResourceAsStream("policy.yaml")) {
            if (in == null) {
                throw new IllegalStateException("the resource policy.yaml is missing from the jar");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
