package dev.rimecast.dashboard.json;

import dev.rimecast.dashboard.system.Probes;
import java.util.List;

/**
 * An answer to {@code /livez} or {@code /readyz}.
 *
 * @param ok whether it is so; the status says the same
 * @param failing the parts that say no
 */
public record ProbeJson(boolean ok, List<String> failing) {

    public static ProbeJson of(Probes.Answer answer) {
        return new ProbeJson(answer.isYes(), answer.failing());
    }
}
