package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;

/** What is known of one machine, and what is decided about it. A plain object: one thread, no clock. */
final class MachineMonitor implements ReorderWindow.Sink {
    private Machine machine;
    private final ReorderWindow window;

    private MachineMonitor(Machine machine, ReorderWindow window) {
        this.machine = machine;
        this.window = window;
    }

    static MachineMonitor fresh(Machine machine) {
        return new MachineMonitor(machine, new ReorderWindow());
    }

    void registered(Machine row) {
        machine = row;
    }

    Admission accept(Reading reading) {
        double value =
                reading.channel() == Channel.CONTROLLER_STATUS ? reading.text().hashCode() : reading.value();
        return window.offer(reading.channel(), reading.timeMillis(), value, this);
    }

    @Override
    public void ordered(Channel channel, long timeMillis, double value) {}

    byte[] save(StateWriter out) {
        out.restart();
        StateVersion.MACHINE.write(out);
        MachineRow.save(out, machine);
        window.save(out);
        return out.toBytes();
    }

    static MachineMonitor restore(byte[] bytes) {
        StateReader in = new StateReader(bytes);
        StateVersion.MACHINE.require(in);
        return new MachineMonitor(MachineRow.restore(in), ReorderWindow.restore(in));
    }
}
