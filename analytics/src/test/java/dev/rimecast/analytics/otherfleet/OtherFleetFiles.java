package dev.rimecast.analytics.otherfleet;

import dev.rimecast.analytics.fleetfiles.FleetFiles;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;

/**
 * Writes a fleet of the second simulator as files of the contract: {@code machines.csv}, {@code sites.csv},
 * {@code events.csv}, {@code weather.csv}, {@code truth.csv} and {@code telemetry.csv.gz}. To run it:
 *
 * <pre>{@code
 * ./rimecast --version && mvn -B -q '-P!checked' -pl analytics -am test-compile
 * java -cp analytics/target/test-classes:app/target/rimecast.jar dev.rimecast.analytics.otherfleet.OtherFleetFiles \
 *     DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare [SOUND_SHARE]
 * ./rimecast replay DIR/telemetry.csv.gz --register DIR/machines.csv --sites DIR/sites.csv --events DIR/events.csv --out OUT
 * }</pre>
 */
public final class OtherFleetFiles {
    private OtherFleetFiles() {}

    public static void main(String[] args) throws IOException {
        if (args.length < 6 || args.length > 7) {
            throw new IllegalArgumentException("DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare [SOUND_SHARE]");
        }
        OtherFleetPlan plan = new OtherFleetPlan(
                Long.parseLong(args[1]),
                Integer.parseInt(args[2]),
                Integer.parseInt(args[3]),
                Integer.parseInt(args[4]),
                ChannelSets.valueOf(args[5].toUpperCase(Locale.ROOT)),
                args.length == 7 ? Double.parseDouble(args[6]) : 0.5);
        write(plan, Path.of(args[0]));
    }

    static void write(OtherFleetPlan plan, Path directory) throws IOException {
        FleetFiles.write(new OtherFleet(plan), plan.days(), directory);
    }
}
