package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Records of invented sites. */
final class SiteLogs {
    static final Instant START = Instant.parse("2026-05-04T00:00:00Z");

    private SiteLogs() {}

    static SiteRecord registered(String site, String machine) {
        return new SiteRecord.Registered(START, Machine.basic(machine, site, gatewayOf(site)));
    }

    /** The {@code number}-th pack of the site's gateway, one minute after the one before: two readings. */
    static SiteRecord pack(String site, String machine, int number) {
        Instant at = START.plusSeconds(60L * number);
        return new SiteRecord.Pack(
                gatewayOf(site),
                Optional.of(new PackNumber("boot-1", number)),
                at,
                List.of(
                        Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, at.toEpochMilli(), -6 + number % 7),
                        Reading.number(machine, Channel.CONDENSER_TEMPERATURE, at.toEpochMilli(), 38 + number % 5)),
                0);
    }

    static SiteRecord tick(int minute) {
        return new SiteRecord.Tick(START.plusSeconds(60L * minute));
    }

    private static String gatewayOf(String site) {
        return "gw-" + site;
    }
}
