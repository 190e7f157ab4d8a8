package dev.rimecast.app.config;

import java.util.ArrayList;
import java.util.List;

/** The page of all settings: a configuration file that says what it would be without one. */
public final class ConfigPage {
    private ConfigPage() {}

    public static String text() {
        List<String> lines = new ArrayList<>();
        lines.add(
                "# All settings of Rimecast with their defaults. Every key can be left out; an unknown one is an error.");
        lines.add("# Made by: ./rimecast check --print-defaults");
        lines.add("");
        lines.add("# Stages that this process runs: ingest, analytics, alerts, history, dashboard.");
        lines.add("# Environment: RIMECAST_ROLES, separated by commas");
        lines.add("roles: [ingest, analytics, alerts, history, dashboard]");
        String section = "";
        for (ConfigKey<?> key : ConfigKeys.ALL) {
            if (!key.section().equals(section)) {
                section = key.section();
                lines.add("");
                lines.add(section + ":");
            }
            lines.addAll(key.described());
        }
        return String.join("\n", lines) + "\n";
    }
}
