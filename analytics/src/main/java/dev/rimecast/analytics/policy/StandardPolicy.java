package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.yaml.Yaml;

/** The policy of the resource, read once. */
final class StandardPolicy {
    static final Policy POLICY = PolicyReader.readStandard(text());

    private StandardPolicy() {}

    private static String text() {
        return Yaml.text(StandardPolicy.class, "policy.yaml");
    }
}
