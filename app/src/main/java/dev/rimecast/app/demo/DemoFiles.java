package dev.rimecast.app.demo;

import dev.rimecast.alerts.visits.VisitMeans;
import dev.rimecast.alerts.visits.file.EngineersFile;
import dev.rimecast.alerts.visits.file.PartsFile;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.machine.Register;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** The register of the simulated fleet as files, which come in the way everybody's do. */
final class DemoFiles {
    private static final String ENGINEERS = "engineers.csv";
    private static final String PARTS = "parts.csv";

    private DemoFiles() {}

    /** @return the directory that has machines.csv and sites.csv */
    static Path write(Path data, Register register) throws IOException {
        Path directory = data.resolve("fleet");
        Files.createDirectories(directory);
        MachinesFile.write(directory.resolve("machines.csv"), register.machines());
        SitesFile.write(directory.resolve("sites.csv"), register.sites());
        Files.writeString(directory.resolve(ENGINEERS), """
                engineer,days,skills,sites,minutes_per_day
                Noa,mon-fri,appliance;electrical;plumbing;hygiene;network,*,480
                Samir,mon;tue;thu,appliance;electrical;refrigeration;plumbing;hygiene,*,480
                Wilma,wed-sat,appliance;plumbing;hygiene,*,360
                """);
        Files.writeString(directory.resolve(PARTS), """
                part,lead_days
                Fan motor,2
                Drain pump,3
                Compressor,6
                """);
        return directory;
    }

    /** The invented firm's engineers and parts. */
    static VisitMeans visits(Path directory) throws IOException {
        return new VisitMeans(
                EngineersFile.read(directory.resolve(ENGINEERS)),
                PartsFile.read(directory.resolve(PARTS)),
                PlanSettings.STANDARD);
    }
}
