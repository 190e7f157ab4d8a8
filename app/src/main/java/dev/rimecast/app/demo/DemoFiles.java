package dev.rimecast.app.demo;

import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.machine.Register;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** The register of the simulated fleet as files, which come in the way everybody's do. */
final class DemoFiles {
    private DemoFiles() {}

    /** @return the directory that has machines.csv and sites.csv */
    static Path write(Path data, Register register) throws IOException {
        Path directory = data.resolve("fleet");
        Files.createDirectories(directory);
        MachinesFile.write(directory.resolve("machines.csv"), register.machines());
        SitesFile.write(directory.resolve("sites.csv"), register.sites());
        return directory;
    }
}
