package dev.rimecast.ingest.kafka;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import org.junit.jupiter.api.Test;

class RegisterRowsTest {
    private static final Instant AT = Instant.parse("2026-05-04T12:00:00Z");

    private final RegisterRows rows = new RegisterRows();

    @Test
    void rows_makeARegister_andEndedOnesLeaveIt() {
        put("ice-1", "harbour", "gw-1");
        put("ice-2", "harbour", "gw-1");
        rows.put("site/harbour", new SiteRecord.SiteChanged(AT, Site.basic("harbour")));
        rows.end("machine/ice-2");

        assertThat(rows.register().machines()).extracting(Machine::id).containsExactly("ice-1");
        assertThat(rows.register().siteOfGateway("gw-1")).contains("harbour");
        assertThat(rows.register().site("harbour")).isPresent();
    }

    @Test
    void gatewayThatMoves_standsWhereItsNewestRowSays() {
        put("ice-1", "harbour", "gw-1");
        put("ice-2", "harbour", "gw-1");
        put("ice-1", "station", "gw-1");

        assertThat(rows.register().siteOfGateway("gw-1")).contains("station");
        assertThat(rows.register().machine("ice-2")).isEmpty();

        put("ice-2", "station", "gw-1");
        assertThat(rows.register().machines()).hasSize(2);
    }

    private void put(String machine, String site, String gateway) {
        rows.put("machine/" + machine, new SiteRecord.Registered(AT, Machine.basic(machine, site, gateway)));
    }
}
