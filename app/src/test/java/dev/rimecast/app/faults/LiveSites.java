package dev.rimecast.app.faults;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/** Sites of one machine whose readings are of now, so that somebody is told of what is found: one notice a site. */
final class LiveSites {
    static final List<String> ALL =
            IntStream.range(0, 12).mapToObj("live-%02d"::formatted).toList();
    private static final int MINUTES = 10;

    private LiveSites() {}

    static String gateway(String site) {
        return "gw-" + site;
    }

    static String machine(String site) {
        return site + "-1";
    }

    /** Rows of the register. */
    static String rows() {
        StringBuilder rows = new StringBuilder();
        ALL.forEach(site -> rows.append(machine(site) + ',' + site + ',' + gateway(site) + '\n'));
        return rows.toString();
    }

    /** Ten minutes over the limit of 65 °C, the last of them now. */
    static List<Reading> tooHot(String site, Instant now) {
        List<Reading> readings = new ArrayList<>();
        String machine = machine(site);
        Instant end = now.truncatedTo(ChronoUnit.SECONDS);
        for (int ago = MINUTES; ago >= 0; ago--) {
            long at = end.minus(ago, ChronoUnit.MINUTES).toEpochMilli();
            readings.add(Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, at, -4.5));
            readings.add(Reading.number(machine, Channel.CONDENSER_TEMPERATURE, at, 70.5));
            readings.add(Reading.phase(machine, at, Phase.FREEZE));
        }
        return readings;
    }
}
