package dev.rimecast.dashboard.json;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * How the product is doing.
 *
 * @param now the product's own clock, which is not the wall's while a demonstration catches up
 * @param demo one sentence where this is a demonstration
 */
public record StatusJson(
        String product,
        String version,
        Instant now,
        String state,
        List<StageJson> stages,
        Optional<String> demo,
        int liveViewers) {

    /** One stage: {@code up}, {@code degraded} or {@code down}. */
    public record StageJson(String name, String state, String detail) {}
}
