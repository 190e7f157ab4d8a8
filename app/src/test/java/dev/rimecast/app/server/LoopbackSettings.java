package dev.rimecast.app.server;

import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** Every role in one process, on ports of loopback that are free. */
public final class LoopbackSettings {
    private LoopbackSettings() {}

    /** @param data directory of the server */
    public static ServerSettings of(Path data, ServerSettings.Files files) {
        return new ServerSettings(
                data,
                Role.all(),
                new ServerSettings.Address("127.0.0.1", 0),
                new ServerSettings.Mqtt(new ServerSettings.Address("127.0.0.1", 0), 0),
                Optional.empty(),
                ServerSettings.TopicShape.ONE_MACHINE,
                Optional.empty(),
                files);
    }

    /** With a register that is one file of machines. */
    public static ServerSettings of(Path data, Path machines) {
        return of(data, new ServerSettings.Files(Optional.of(machines), Optional.empty(), Optional.empty()));
    }

    /**
     * With the register of a simulated fleet.
     *
     * @param directory gets the register's files, and {@code data}
     */
    public static ServerSettings of(Path directory, FleetPlan plan) throws IOException {
        Files.createDirectories(directory);
        Path machines = directory.resolve("machines.csv");
        Path sites = directory.resolve("sites.csv");
        MachinesFile.write(machines, plan.register().machines());
        SitesFile.write(sites, plan.register().sites());
        return of(
                directory.resolve("data"),
                new ServerSettings.Files(Optional.of(machines), Optional.of(sites), Optional.empty()));
    }

    /** The same where a server was before, which has ended. */
    public static ServerSettings again(ServerSettings settings, int httpPort, int mqttPort) {
        return new ServerSettings(
                settings.data(),
                settings.roles(),
                new ServerSettings.Address("127.0.0.1", httpPort),
                new ServerSettings.Mqtt(new ServerSettings.Address("127.0.0.1", mqttPort), 0),
                settings.kafka(),
                settings.topics(),
                settings.database(),
                settings.files());
    }

    /** The same, and somebody is told. */
    public static ServerSettings withNotices(ServerSettings settings, NoticeBook notices) {
        return new ServerSettings(
                settings.data(),
                settings.roles(),
                settings.management(),
                settings.http(),
                settings.pagesTls(),
                settings.mqtt(),
                settings.kafka(),
                settings.topics(),
                settings.member(),
                settings.database(),
                settings.files(),
                notices,
                settings.secondFactor(),
                settings.siteLinkLasts(),
                settings.retention(),
                settings.visits(),
                settings.keepFreeBytes(),
                settings.past(),
                settings.isDemo());
    }
}
