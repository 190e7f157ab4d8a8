package dev.rimecast.app.command;

import dev.rimecast.alerts.rules.Book;
import dev.rimecast.app.config.Config;
import dev.rimecast.app.config.ConfigPage;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Reads a configuration and says everything that is wrong with it. */
@Command(
        name = "check",
        mixinStandardHelpOptions = true,
        description = {
            "Reads a configuration file, with the environment's values over it, and says everything that is wrong"
                    + " with it at once: unknown and repeated keys, wrong types and ranges, files that are missing.",
            "With --rules it reads a firm's books of rules the same way, before they are saved on the page Rules.",
            "Nothing is started or written."
        },
        footer = ExitCode.FOOTER)
final class CheckCommand implements Callable<Integer> {
    @Parameters(arity = "0..1", paramLabel = "CONFIG", description = "The configuration file (YAML).")
    Optional<Path> file = Optional.empty();

    @Option(names = "--print-defaults", description = "Print all settings with comment, unit and default, and end.")
    boolean printDefaults;

    @Option(
            names = "--rules",
            paramLabel = "DIR",
            description =
                    "Check the books in this directory: priority.yaml, cases.yaml, life.yaml, advice.yaml, those that"
                            + " are there.")
    Optional<Path> rules = Optional.empty();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        PrintWriter out = spec == null
                ? new PrintWriter(System.out, true)
                : spec.commandLine().getOut();
        if (printDefaults) {
            out.print(ConfigPage.text());
            out.flush();
            return ExitCode.OK;
        }
        if (rules.isPresent()) {
            out.println(checkRules(rules.get()) + " can be saved on the page Rules");
            out.flush();
            if (file.isEmpty()) {
                return ExitCode.OK;
            }
        }
        Path config =
                file.orElseThrow(() -> new InputException("check needs a file: ./rimecast check CONFIG, or --rules DIR,"
                        + " or --print-defaults to see all settings"));
        ServerSettings settings = Config.load(config, System.getenv());
        out.println(config + " is fine: "
                + settings.roles().stream().map(role -> role.code()).sorted().toList()
                + ", pages on " + (settings.pagesTls().isPresent() ? "https://" : "http://")
                + settings.http().host() + ":"
                + settings.http().port()
                + ", data in " + settings.data());
        out.flush();
        return ExitCode.OK;
    }

    /** Everything that is wrong in all of them at once. */
    private static String checkRules(Path directory) throws IOException {
        List<String> read = new ArrayList<>();
        List<YamlProblem> wrong = new ArrayList<>();
        for (Book book : Book.values()) {
            Path path = directory.resolve(book.file());
            if (Files.isRegularFile(path)) {
                wrong.addAll(book.problems(Yaml.text(path)));
                read.add(book.file());
            }
        }
        if (read.isEmpty()) {
            throw new InputException(directory + " holds none of "
                    + Stream.of(Book.values()).map(Book::file).collect(Collectors.joining(", ")));
        }
        if (!wrong.isEmpty()) {
            throw new YamlProblems(wrong);
        }
        return String.join(", ", read);
    }
}
