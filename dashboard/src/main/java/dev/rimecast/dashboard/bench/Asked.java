package dev.rimecast.dashboard.bench;

import java.util.Optional;

/** Something that was asked of the past, and is answered in its turn. */
public interface Asked<A extends Asked<A>> {
    int id();

    /** {@code waiting}, {@code running}, {@code done}, {@code cancelled} or {@code failed}. */
    String state();

    /** The same in another state. */
    A in(String state, Optional<String> problem, Optional<Progress> progress);

    /** Whether it waits or runs. */
    static boolean isOpen(Asked<?> asked) {
        return asked.state().equals("waiting") || asked.state().equals("running");
    }
}
