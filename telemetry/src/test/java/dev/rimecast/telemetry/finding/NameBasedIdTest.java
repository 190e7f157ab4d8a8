package dev.rimecast.telemetry.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class NameBasedIdTest {

    @Test
    void of_exampleOfTheStandard_givesItsValue() {
        // RFC 9562 appendix A.4, version 5 of "www.example.com" in the DNS name space; the same from
        // Python 3.11: uuid.uuid5(uuid.NAMESPACE_DNS, "www.example.com").
        UUID dns = UUID.fromString("6ba7b810-9dad-11d1-80b4-00c04fd430c8");

        UUID id = NameBasedId.of(dns, "www.example.com".getBytes(StandardCharsets.UTF_8));

        assertThat(id).hasToString("2ed6657d-e927-568b-95e1-2665a8aea6a2");
    }

    @Test
    void idOf_sameRaise_isTheSameAndAnotherTimeIsAnother() {
        Instant at = Instant.parse("2026-05-04T00:00:12.010Z");

        UUID id = Finding.idOf("ice-0007", Condition.SLOW_PULL_DOWN, at);

        assertThat(Finding.idOf("ice-0007", Condition.SLOW_PULL_DOWN, at)).isEqualTo(id);
        assertThat(Finding.idOf("ice-0007", Condition.SLOW_PULL_DOWN, at.plusMillis(1)))
                .isNotEqualTo(id);
        assertThat(Finding.idOf("ice-0008", Condition.SLOW_PULL_DOWN, at)).isNotEqualTo(id);
    }
}
