package dev.rimecast.analytics.finding;

import java.util.Optional;

/** What a finding is about: a machine, or a gateway. */
public record Subject(String site, Optional<String> machine, Optional<String> gateway) {

    public static Subject machine(String site, String machine) {
        return new Subject(site, Optional.of(machine), Optional.empty());
    }

    public static Subject gateway(String site, String gateway) {
        return new Subject(site, Optional.empty(), Optional.of(gateway));
    }

    /** The part of a finding's id that names the subject. */
    String key() {
        return machine.orElseGet(() -> gateway.map(g -> "gateway:" + g).orElse("site:" + site));
    }
}
