package dev.rimecast.app.command;

import dev.rimecast.app.config.Config;
import dev.rimecast.app.config.ConfigPage;
import dev.rimecast.app.server.ServerSettings;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
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
            "Nothing is started or written."
        },
        footer = ExitCode.FOOTER)
final class CheckCommand implements Callable<Integer> {
    @Parameters(arity = "0..1", paramLabel = "CONFIG", description = "The configuration file (YAML).")
    Optional<Path> file = Optional.empty();

    @Option(names = "--print-defaults", description = "Print all settings with comment, unit and default, and end.")
    boolean printDefaults;

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
        Path config = file.orElseThrow(() -> new InputException(
                "check needs a file: ./rimecast check CONFIG, or --print-defaults to see all settings"));
        ServerSettings settings = Config.load(config, System.getenv());
        out.println(config + " is fine: "
                + settings.roles().stream().map(role -> role.code()).sorted().toList()
                + ", pages on http://" + settings.http().host() + ":"
                + settings.http().port()
                + ", data in " + settings.data());
        out.flush();
        return ExitCode.OK;
    }
}
