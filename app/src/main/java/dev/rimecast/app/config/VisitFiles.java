package dev.rimecast.app.config;

import dev.rimecast.alerts.visits.VisitMeans;
import dev.rimecast.alerts.visits.file.EngineersFile;
import dev.rimecast.alerts.visits.file.PartsFile;
import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** Who can be sent and what takes time to come; what is wrong in those files is told with what is wrong in this one. */
final class VisitFiles {
    private VisitFiles() {}

    private interface Reader<T> {
        T read(Path file) throws IOException;
    }

    static VisitMeans read(YamlMap document, Path base) {
        Team team = file(document, ConfigKeys.FLEET_ENGINEERS, base, EngineersFile::read, Team.UNKNOWN);
        if (team.engineers().isEmpty()) {
            document.map(ConfigKeys.FLEET_ENGINEERS.section())
                    .problem(ConfigKeys.FLEET_ENGINEERS.name(), "names nobody: add a line, or leave the key out");
        }
        PartLeads parts = file(document, ConfigKeys.FLEET_PARTS, base, PartsFile::read, PartLeads.IN_STOCK);
        return new VisitMeans(
                team,
                parts,
                new PlanSettings(
                        (int) ConfigKeys.VISITS_HORIZON.in(document).toDays(),
                        (int) ConfigKeys.VISITS_CARE_GRACE.in(document).toDays(),
                        (int) ConfigKeys.VISITS_SPARE.in(document).toDays(),
                        (int) ConfigKeys.VISITS_TRAVEL.in(document).toMinutes(),
                        (int) ConfigKeys.VISITS_SETTLE.in(document).toDays()));
    }

    private static <T> T file(YamlMap document, ConfigKey<String> key, Path base, Reader<T> reader, T otherwise) {
        Optional<Path> file = Config.existing(document, key, base).filter(Files::isReadable);
        if (file.isEmpty()) {
            return otherwise;
        }
        YamlMap section = document.map(key.section());
        try {
            return reader.read(file.get());
        } catch (InputProblems wrong) {
            wrong.problems().forEach(problem -> section.problem(key.name(), problem.toString()));
        } catch (IOException e) {
            section.problem(key.name(), "can't be read: " + e.getMessage());
        }
        return otherwise;
    }
}
