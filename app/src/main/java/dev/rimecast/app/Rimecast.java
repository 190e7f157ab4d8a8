package dev.rimecast.app;

import dev.rimecast.app.command.RootCommand;

/** Where the process begins. */
public final class Rimecast {
    private Rimecast() {}

    public static void main(String[] arguments) {
        System.exit(RootCommand.execute(arguments, System.getenv()));
    }
}
