package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.file.csv.InputProblem;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The register from its files. */
public final class RegisterFiles {

    private RegisterFiles() {}

    /**
     * Reads {@code machines.csv} and, if there is one, {@code sites.csv}.
     *
     * @throws IOException if a file can't be read at all
     * @throws InputProblems if anything in either is wrong, everything at once
     */
    public static Register read(Path machinesFile, Optional<Path> sitesFile) throws IOException {
        List<InputProblem> problems = new ArrayList<>();
        List<Machine> machines = List.of();
        List<Site> sites = List.of();
        try {
            machines = MachinesFile.read(machinesFile);
        } catch (InputProblems e) {
            problems.addAll(e.problems());
        }
        try {
            sites = sitesFile.isPresent() ? SitesFile.read(sitesFile.get()) : List.of();
        } catch (InputProblems e) {
            problems.addAll(e.problems());
        }
        if (!problems.isEmpty()) {
            throw new InputProblems(problems);
        }
        return new Register(machines, sites);
    }
}
