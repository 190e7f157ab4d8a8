package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.system.Probes;
import java.util.List;

/** Answers that a test chooses. */
public record FakeProbes(List<String> ended, List<String> unready) implements Probes {
    public static final FakeProbes WELL = new FakeProbes(List.of(), List.of());

    @Override
    public Answer live() {
        return new Answer(ended);
    }

    @Override
    public Answer ready() {
        return new Answer(unready);
    }
}
