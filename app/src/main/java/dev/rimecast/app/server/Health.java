package dev.rimecast.app.server;

import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.analytics.stream.AnalyticsStage;
import dev.rimecast.analytics.stream.StageHealth;
import dev.rimecast.dashboard.HealthView;
import dev.rimecast.history.HistoryHealth;
import dev.rimecast.history.HistoryStage;
import dev.rimecast.ingest.IngestHealth;
import dev.rimecast.ingest.IngestStage;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/**
 * How every stage of this process is, in the words of the pages.
 *
 * @param inTheClear what {@link ClearText} has to say
 */
record Health(
        Optional<IngestStage> ingest,
        Optional<AnalyticsStage> analytics,
        Optional<AlertsStage> alerts,
        Optional<HistoryStage> history,
        List<String> inTheClear,
        Supplier<Optional<String>> notice)
        implements Supplier<HealthView> {

    @Override
    public HealthView get() {
        List<HealthView.StageHealth> stages = new ArrayList<>();
        ingest.ifPresent(stage -> stages.add(of(stage.health())));
        analytics.ifPresent(stage -> stages.add(of(stage.health())));
        alerts.ifPresent(stage -> stages.add(of(stage)));
        history.ifPresent(stage -> stages.add(of(stage.health())));
        if (!inTheClear.isEmpty()) {
            // Somebody may mean it so: told, and no trouble that would hide another.
            stages.add(new HealthView.StageHealth("network", HealthView.State.UP, String.join("; ", inTheClear)));
        }
        return new HealthView(stages, notice.get());
    }

    /** Stages of which something has ended that does not come back by itself. */
    List<String> ended() {
        List<String> ended = new ArrayList<>();
        ingest.filter(stage -> !stage.isAlive()).ifPresent(stage -> ended.add("ingest"));
        analytics.filter(stage -> !stage.isAlive()).ifPresent(stage -> ended.add("analytics"));
        alerts.filter(stage -> !stage.isAlive()).ifPresent(stage -> ended.add("alerts"));
        history.filter(stage -> !stage.isAlive()).ifPresent(stage -> ended.add("history"));
        return ended;
    }

    /** Stages that take no work now. */
    List<String> unready() {
        List<String> unready = new ArrayList<>();
        ingest.filter(stage -> !stage.health().isWell()).ifPresent(stage -> unready.add("ingest"));
        analytics.filter(stage -> !stage.health().isRunning()).ifPresent(stage -> unready.add("analytics"));
        alerts.filter(stage -> !stage.health().takesWork()).ifPresent(stage -> unready.add("alerts"));
        history.filter(stage -> !stage.health().isWell()).ifPresent(stage -> unready.add("history"));
        return unready;
    }

    private static HealthView.StageHealth of(IngestHealth health) {
        HealthView.State unwell = health.isBrokerThere() ? HealthView.State.DEGRADED : HealthView.State.DOWN;
        return new HealthView.StageHealth("ingest", health.isWell() ? HealthView.State.UP : unwell, health.inWords());
    }

    private static HealthView.StageHealth of(StageHealth health) {
        HealthView.State state = switch (health.state()) {
            case RUNNING -> HealthView.State.UP;
            case REBALANCING -> HealthView.State.DEGRADED;
            case FAILED, CLOSED -> HealthView.State.DOWN;
        };
        return new HealthView.StageHealth("analytics", state, health.reason());
    }

    private static HealthView.StageHealth of(HistoryHealth health) {
        return new HealthView.StageHealth(
                "history",
                health.isWell() ? HealthView.State.UP : HealthView.State.DEGRADED,
                health.isWell() ? "" : health.inWords());
    }

    private static HealthView.StageHealth of(AlertsStage stage) {
        Map<String, String> problems = stage.health().problems();
        String detail = problems.entrySet().stream()
                .map(problem -> problem.getKey() + ": " + problem.getValue())
                .collect(Collectors.joining("; "));
        return new HealthView.StageHealth(
                "alerts", problems.isEmpty() ? HealthView.State.UP : HealthView.State.DEGRADED, detail);
    }
}
