package dev.rimecast.alerts.view;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.telemetry.finding.Finding;
import java.util.List;
import java.util.Optional;

/** Alerts as tests need them. */
public final class AlertViews {
    private AlertViews() {}

    /** Nobody has seen it, and nothing else is known of it. */
    public static AlertView unseen(Finding finding) {
        return new AlertView(
                finding,
                finding.priority(),
                "",
                Optional.empty(),
                Optional.empty(),
                "Site A",
                AlertState.UNACKNOWLEDGED,
                1,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                AdviceBook.standard().adviceFor(finding, MachineKind.NOT_KNOWN, Optional.empty()),
                List.of());
    }
}
