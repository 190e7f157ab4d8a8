package dev.rimecast.app.faults;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * Two sites with a gateway and two machines each, whose condensers get far too hot for half an hour, the first's every seven
 * hours, the second's every 49: alerts are revised, come and go as fast as the readings are sent. Not physics: what matters here is that none gets lost.
 */
public final class ToyFleet {
    public static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    public static final List<String> SITES = List.of("harbour", "ward");
    private static final int CYCLE_MINUTES = 30;
    /** Seven hours: what comes back within two days keeps its alert, so that one is revised again and again. */
    private static final int OFTEN_CYCLES = 14;
    /** 49 hours: the next one is an alert of its own. */
    private static final int SELDOM_CYCLES = 98;

    private ToyFleet() {}

    public static String gateway(String site) {
        return "gw-" + site;
    }

    static List<String> machines(String site) {
        return List.of(site + "-1", site + "-2");
    }

    public static void writeRegister(Path file) throws java.io.IOException {
        StringBuilder text = new StringBuilder("machine,site,gateway\n");
        for (String site : SITES) {
            machines(site).forEach(machine -> text.append(machine + "," + site + "," + gateway(site) + "\n"));
        }
        Files.writeString(file, text.toString());
    }

    /** What a site's gateway says of the minutes from {@code from} (inclusive) to {@code to} (exclusive). */
    public static List<Reading> readings(String site, int from, int to) {
        List<Reading> readings = new ArrayList<>();
        for (int minute = from; minute < to; minute++) {
            long at = START.plus(Duration.ofMinutes(minute)).toEpochMilli();
            int number = 0;
            for (String machine : machines(site)) {
                number++;
                int inCycle = minute % CYCLE_MINUTES;
                boolean freezing = inCycle < 26;
                boolean hot = (minute / CYCLE_MINUTES + number) % (number == 1 ? OFTEN_CYCLES : SELDOM_CYCLES) == 6;
                double plate = freezing ? 12 - 1.1 * inCycle : -16 + 9.0 * (inCycle - 26);
                readings.add(Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, at, plate));
                readings.add(Reading.number(machine, Channel.CONDENSER_TEMPERATURE, at, hot ? 72 : 39));
                readings.add(Reading.number(machine, Channel.AMBIENT_TEMPERATURE, at, 24));
                readings.add(Reading.phase(machine, at, freezing ? Phase.FREEZE : Phase.HARVEST));
            }
        }
        return readings;
    }
}
