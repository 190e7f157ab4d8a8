package dev.rimecast.app.config;

import dev.rimecast.dashboard.TrustedProxies;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;

/** Who stands in front of the pages. */
final class ProxyKeys {
    static final ConfigKey<String> TRUSTED = ConfigKey.optional(
            "dashboard.trusted-proxies",
            YamlType.text(),
            "127.0.0.1",
            "Addresses of reverse proxies in front of the pages, separated by commas. Of those alone the last address in X-Forwarded-For is"
                    + " taken for whom a request is from, so they must write it (or append to it) themselves. Without it everybody behind a"
                    + " proxy has its address: one who guesses passwords keeps all others waiting.");

    private ProxyKeys() {}

    static TrustedProxies read(YamlMap document) {
        try {
            return TRUSTED.optionalIn(document).map(TrustedProxies::of).orElse(TrustedProxies.NONE);
        } catch (IllegalArgumentException e) {
            document.map(TRUSTED.section()).problem(TRUSTED.name(), String.valueOf(e.getMessage()));
            return TrustedProxies.NONE;
        }
    }
}
