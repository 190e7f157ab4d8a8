package dev.rimecast.analytics.fleetfiles;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Register;
import java.util.List;

/** A simulated fleet that can be lived through and written down. */
public interface LivingFleet {
    /** The columns of its log. */
    List<Channel> channels();

    /** Lives on until so many seconds after its start and gives what has arrived since, in the order of arrival. */
    List<Row> advanceTo(double untilSeconds);

    Register register();

    /** What people reported; complete only after the whole time has been lived through. */
    List<EventRow> events();

    List<WeatherRow> weather();

    /** What was really wrong; complete only after the whole time has been lived through. */
    List<TruthRow> truth();
}
