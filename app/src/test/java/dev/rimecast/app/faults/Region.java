package dev.rimecast.app.faults;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Sites of eight machines each, and one of five hundred, one gateway a site, all of which lose power at the same moment. Of every ten sites seven lose their
 * gateway with it; of three the gateway and one machine are on another circuit and go on; one site in forty is in another region and has
 * its power all the time.
 */
final class Region {
    private static final int MACHINES = 8;
    /** A site whose gateway has power of its own, as a large one would. */
    private static final int LARGE = 8;

    private static final int MACHINES_OF_THE_LARGE = 500;
    private static final int CYCLE_MINUTES = 30;
    private static final int FREEZE_MINUTES = 26;

    /** What a power cut takes at a site. */
    enum Loses {
        EVERYTHING,
        ALL_BUT_GATEWAY_AND_ONE,
        NOTHING
    }

    /** A site of it. */
    record Site(String name, Loses loses, int size) {
        String gateway() {
            return "gw-" + name;
        }

        List<String> machines() {
            return IntStream.rangeClosed(1, size)
                    .mapToObj(number -> name + "-" + number)
                    .toList();
        }

        /** Those that go on without power of the region. */
        List<String> lit() {
            return switch (loses) {
                case EVERYTHING -> List.of();
                case ALL_BUT_GATEWAY_AND_ONE -> machines().subList(0, 1);
                case NOTHING -> machines();
            };
        }
    }

    private final Instant start;
    private final List<Site> sites;

    Region(int size, Instant start) {
        this.start = start;
        this.sites = IntStream.range(0, size)
                .mapToObj(number -> new Site(
                        "site-%04d".formatted(number),
                        loses(number),
                        number == LARGE ? MACHINES_OF_THE_LARGE : MACHINES))
                .toList();
    }

    private static Loses loses(int number) {
        if (number % 40 == 39) {
            return Loses.NOTHING;
        }
        return number % 10 < 7 ? Loses.EVERYTHING : Loses.ALL_BUT_GATEWAY_AND_ONE;
    }

    List<Site> sites() {
        return sites;
    }

    List<Site> that(Loses what) {
        return sites.stream().filter(site -> site.loses() == what).toList();
    }

    int machines() {
        return sites.stream().mapToInt(Site::size).sum();
    }

    /** Machines that have no power. */
    int dark() {
        return sites.stream().mapToInt(site -> site.size() - site.lit().size()).sum();
    }

    void writeRegister(Path file) throws IOException {
        StringBuilder text = new StringBuilder("machine,site,gateway\n");
        sites.forEach(site -> site.machines()
                .forEach(machine -> text.append(machine + ',' + site.name() + ',' + site.gateway() + '\n')));
        Files.writeString(file, text.toString());
    }

    /** What machines say of one minute since the start, in step of a healthy cycle of half an hour. */
    List<Reading> readings(List<String> machines, int minute) {
        long at = start.plus(Duration.ofMinutes(minute)).toEpochMilli();
        int inCycle = minute % CYCLE_MINUTES;
        boolean freezing = inCycle < FREEZE_MINUTES;
        double plate = freezing ? 12 - 1.1 * inCycle : -16 + 9.0 * (inCycle - FREEZE_MINUTES);
        List<Reading> readings = new ArrayList<>();
        for (String machine : machines) {
            readings.add(Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, at, plate));
            readings.add(Reading.number(machine, Channel.CONDENSER_TEMPERATURE, at, 42 - 0.3 * inCycle));
            readings.add(Reading.number(machine, Channel.AMBIENT_TEMPERATURE, at, 24 + 0.1 * (minute % 7)));
            readings.add(Reading.phase(machine, at, freezing ? Phase.FREEZE : Phase.HARVEST));
        }
        return readings;
    }
}
