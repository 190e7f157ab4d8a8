package dev.rimecast.app.server;

import dev.rimecast.app.logging.LogCounter;
import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.HealthView.StageHealth;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.binder.jvm.JvmGcMetrics;
import io.micrometer.core.instrument.binder.jvm.JvmMemoryMetrics;
import io.micrometer.core.instrument.binder.jvm.JvmThreadMetrics;
import io.micrometer.core.instrument.binder.system.FileDescriptorMetrics;
import io.micrometer.core.instrument.binder.system.ProcessorMetrics;
import io.micrometer.core.instrument.binder.system.UptimeMetrics;
import io.micrometer.core.instrument.config.MeterFilter;
import java.io.IOException;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.util.Set;
import java.util.function.ToDoubleFunction;

/** What every process says of itself, whatever it runs: version, stages, disk, log, Java. */
final class ProcessMeters {
    /** Meters of the library whose names Prometheus's own check refuses; the usage of processors says the same. */
    private static final Set<String> ILL_NAMED = Set.of("process.cpu.time", "system.cpu.count");

    private final ServerSettings settings;
    private final Standing standing;
    private final MeterRegistry meters;

    private ProcessMeters(ServerSettings settings, Standing standing, MeterRegistry meters) {
        this.settings = settings;
        this.standing = standing;
        this.meters = meters;
    }

    /** Makes them, before any other meter; what has to be closed is left to {@code closing}. */
    static void bind(ServerSettings settings, Standing standing, MeterRegistry meters, Closing closing) {
        meters.config().meterFilter(MeterFilter.deny(id -> ILL_NAMED.contains(id.getName())));
        ProcessMeters process = new ProcessMeters(settings, standing, meters);
        process.itself();
        settings.roles().stream().filter(role -> role != Role.DASHBOARD).forEach(process::stage);
        process.disk();
        closing.add("log counter", LogCounter.start(meters));
        JvmGcMetrics collections = closing.add("garbage collection's meters", new JvmGcMetrics());
        collections.bindTo(meters);
        new JvmMemoryMetrics().bindTo(meters);
        new JvmThreadMetrics().bindTo(meters);
        new ProcessorMetrics().bindTo(meters);
        new FileDescriptorMetrics().bindTo(meters);
        new UptimeMetrics().bindTo(meters);
    }

    private void itself() {
        Gauge.builder("rimecast.build.info", () -> 1)
                .description("1; the labels say which version this is")
                .tag("version", Version.text())
                .register(meters);
        Gauge.builder("rimecast.ready", standing, of -> of.ready().isYes() ? 1 : 0)
                .description("1 while the process takes work, as /readyz says, else 0")
                .register(meters);
    }

    private void stage(Role role) {
        for (HealthView.State state : HealthView.State.values()) {
            Gauge.builder("rimecast.stage.state", standing, of -> isIn(of, role, state) ? 1 : 0)
                    .description("1 for the state that the stage is in, 0 for the others")
                    .tag("stage", role.code())
                    .tag("state", state.code())
                    .register(meters);
        }
    }

    private static boolean isIn(Standing standing, Role role, HealthView.State state) {
        return standing.view().stream()
                .flatMap(view -> view.stages().stream())
                .filter(stage -> stage.name().equals(role.code()))
                .map(StageHealth::state)
                .anyMatch(state::equals);
    }

    private void disk() {
        disk(
                "free",
                "Room that this process may still use on the disk of the data directory",
                FileStore::getUsableSpace);
        disk("total", "Size of the disk of the data directory", FileStore::getTotalSpace);
        Gauge.builder("rimecast.disk.keep.free.bytes", settings, ServerSettings::keepFreeBytes)
                .description("With less room than this nothing is taken in; 0: whatever the room")
                .register(meters);
    }

    /** A number of a disk. */
    private interface Room {
        long of(FileStore store) throws IOException;
    }

    private void disk(String name, String description, Room room) {
        ToDoubleFunction<ServerSettings> bytes = of -> {
            try {
                return room.of(Files.getFileStore(of.data()));
            } catch (IOException e) {
                return Double.NaN;
            }
        };
        Gauge.builder("rimecast.disk." + name + ".bytes", settings, bytes)
                .description(description)
                .strongReference(true)
                .register(meters);
    }
}
