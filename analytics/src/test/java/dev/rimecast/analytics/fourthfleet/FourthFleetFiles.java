package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.analytics.fleetfiles.FleetFiles;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;

/**
 * Writes a fleet of the fourth simulator as files of the contract. To run it:
 *
 * <pre>{@code
 * ./rimecast --version && mvn -B -q '-P!checked' -pl analytics -am test-compile
 * java -cp analytics/target/test-classes:app/target/rimecast.jar dev.rimecast.analytics.fourthfleet.FourthFleetFiles \
 *     DIR SEED SITES DAYS SAMPLING full|mixed|bare SOUND_SHARE
 * ./rimecast replay DIR/telemetry.csv.gz --register DIR/machines.csv --sites DIR/sites.csv --events DIR/events.csv --out OUT
 * }</pre>
 *
 * <p>One seed gives the same machines, faults and weather whichever channels they send.
 */
public final class FourthFleetFiles {
    private FourthFleetFiles() {}

    public static void main(String[] args) throws IOException {
        if (args.length != 7) {
            throw new IllegalArgumentException("DIR SEED SITES DAYS SAMPLING full|mixed|bare SOUND_SHARE");
        }
        FourthFleetPlan plan = new FourthFleetPlan(
                Long.parseLong(args[1]),
                Integer.parseInt(args[2]),
                Integer.parseInt(args[3]),
                Integer.parseInt(args[4]),
                ChannelScope.valueOf(args[5].toUpperCase(Locale.ROOT)),
                Double.parseDouble(args[6]));
        FleetFiles.write(new FourthFleet(plan), plan.days(), Path.of(args[0]));
    }
}
