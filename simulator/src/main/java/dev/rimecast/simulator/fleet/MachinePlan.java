package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.physics.Control;
import dev.rimecast.telemetry.machine.Machine;
import java.util.Optional;

/**
 * One machine of a planned fleet.
 *
 * @param machine its row in the register
 * @param control how its controller is set; agrees with the row
 * @param channels what its gateway reads
 * @param fanCycles whether its fan stops while the condenser is cold
 * @param kgPerDay what people take from its bin on a weekday
 * @param night when it is switched off every night
 */
public record MachinePlan(
        Machine machine,
        Control control,
        ChannelSet channels,
        boolean fanCycles,
        double kgPerDay,
        Optional<Night> night) {

    /** Minutes of the day between which a machine is off, by the place's own clock; from evening to morning. */
    public record Night(int offMinute, int onMinute) {
        boolean covers(int minute) {
            return minute >= offMinute || minute < onMinute;
        }
    }

    public String id() {
        return machine.id();
    }
}
