package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.analytics.fleetfiles.FleetFiles;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;

/** Writes a fleet: {@code TwelfthFleetFiles DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare SOUND_SHARE}. */
public final class TwelfthFleetFiles {
    private TwelfthFleetFiles() {}

    public static void main(String[] arguments) throws IOException {
        if (arguments.length != 7) {
            throw new IllegalArgumentException("DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare SOUND_SHARE");
        }
        int days = Integer.parseInt(arguments[3]);
        TwelfthFleet fleet = TwelfthFleetBuilder.build(
                Long.parseLong(arguments[1]),
                Integer.parseInt(arguments[2]),
                days,
                Double.parseDouble(arguments[4]),
                TwelfthFleetBuilder.Scope.valueOf(arguments[5].toUpperCase(Locale.ROOT)),
                Double.parseDouble(arguments[6]));
        FleetFiles.write(fleet, days, Path.of(arguments[0]));
        fleet.machines().stream()
                .filter(m -> !Double.isNaN(m.machine.lockedAt) && m.stopped().isEmpty())
                .forEach(m -> System.err.println("locked out while sound: " + m.registered.id()));
    }
}
