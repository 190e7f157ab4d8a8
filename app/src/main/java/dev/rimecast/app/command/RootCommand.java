package dev.rimecast.app.command;

import dev.rimecast.app.logging.LogFormat;
import java.util.Map;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** {@code ./rimecast}: says what there is. */
@Command(
        name = "rimecast",
        mixinStandardHelpOptions = true,
        versionProvider = RootCommand.Version.class,
        description = {
            "Telemetry ingestion and predictive alerts for fleets of commercial ice machines.",
            "In a checkout, './rimecast bench' measures how fast its parts are on this machine.",
        },
        footer = ExitCode.FOOTER,
        subcommands = {
            DemoCommand.class,
            ServeCommand.class,
            ReplayCommand.class,
            SimulateCommand.class,
            ScoreCommand.class,
            EventsCommand.class,
            WeatherCommand.class,
            GatewayCommand.class,
            RejectsCommand.class,
            DeadLettersCommand.class,
            LogCommand.class,
            QueryCommand.class,
            FleetCommand.class,
            ExportCommand.class,
            BacktestCommand.class,
            TuneCommand.class,
            BackupCommand.class,
            RestoreCommand.class,
            CheckCommand.class,
            CommandLine.HelpCommand.class
        })
public final class RootCommand implements Runnable {
    @Mixin
    Verbose verbose = new Verbose();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    /**
     * Executes what was typed.
     *
     * @return the exit code
     */
    public static int execute(String[] arguments, Map<String, String> environment) {
        try {
            LogFormat.of(environment);
        } catch (IllegalArgumentException wrong) {
            System.err.println(wrong.getMessage());
            return ExitCode.WRONG_INPUT;
        }
        return commandLine().execute(arguments);
    }

    /** The command line, ready to execute. */
    public static CommandLine commandLine() {
        CommandLine line = new CommandLine(new RootCommand());
        line.setExecutionExceptionHandler(new Failures());
        line.setCaseInsensitiveEnumValuesAllowed(true);
        return line;
    }

    @Override
    public void run() {
        if (spec != null) {
            spec.commandLine().usage(spec.commandLine().getOut());
        }
    }

    /** The version that was built. */
    static final class Version implements CommandLine.IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {"rimecast " + dev.rimecast.app.server.Version.text()};
        }
    }
}
