package dev.rimecast.app.command;

import picocli.CommandLine;
import picocli.CommandLine.Option;

/** The option that every command has. */
final class Verbose {
    @Option(names = "--verbose", description = "Show the details of a failure.", scope = CommandLine.ScopeType.INHERIT)
    boolean on;

    static boolean of(CommandLine command) {
        CommandLine root = command;
        while (root.getParent() != null) {
            root = root.getParent();
        }
        return root.getCommand() instanceof RootCommand rimecast && rimecast.verbose.on;
    }
}
