package dev.rimecast.dashboard;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * How the product is doing, for {@code /healthz}, {@code /api/v1/status} and the line at the foot of every page.
 *
 * @param demo one sentence where this is a demonstration, else empty
 */
public record HealthView(List<StageHealth> stages, Optional<String> demo) {
    public HealthView {
        stages = List.copyOf(stages);
    }

    /** The worst of the stages; a product without stages is up. */
    public State overall() {
        State worst = State.UP;
        for (StageHealth stage : stages) {
            if (stage.state().compareTo(worst) > 0) {
                worst = stage.state();
            }
        }
        return worst;
    }

    /** From good to bad. */
    public enum State {
        UP,
        /** Works, but slower, behind or without something it wants. */
        DEGRADED,
        DOWN;

        /** The word on the wire. */
        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * One stage.
     *
     * @param name e.g. {@code ingest}
     * @param detail what a person would want to know, empty when all is well
     */
    public record StageHealth(String name, State state, String detail) {}
}
