package dev.rimecast.analytics.policy;

import dev.rimecast.analytics.state.Packed;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import java.util.ArrayList;
import java.util.List;

/** The policy in force, and those before it under which findings may still be open: at most {@value #KEPT} in all. */
public final class PolicyShelf {
    private static final int KEPT = 4;
    /** The layout from which on the texts are packed. */
    private static final int PACKED = 2;

    /** Newest first. */
    private final List<Policy> policies = new ArrayList<>();

    public PolicyShelf(Policy current) {
        policies.add(current);
    }

    public Policy current() {
        return policies.get(0);
    }

    /** A policy takes effect. */
    public void activate(Policy policy) {
        policies.removeIf(p -> p.version().equals(policy.version()));
        policies.add(0, policy);
        if (policies.size() > KEPT) {
            policies.remove(KEPT);
        }
    }

    /** The policy of that version, or the one in force if it is not kept any more. */
    public Policy named(String version) {
        return policies.stream()
                .filter(p -> p.version().equals(version))
                .findFirst()
                .orElseGet(this::current);
    }

    /**
     * Packed: a text is some 20 KB, most of it comments, each site has its own, and those kept beside the one in force differ
     * from it by a few lines.
     */
    public byte[] save(StateWriter out) {
        out.restart();
        StateVersion.POLICY.write(out);
        StateWriter texts = new StateWriter();
        texts.whole(policies.size());
        policies.forEach(p -> texts.text(p.yaml()));
        Packed.write(texts.toBytes(), out);
        return out.toBytes();
    }

    public static PolicyShelf restore(byte[] bytes) {
        StateReader in = new StateReader(bytes);
        StateReader texts = StateVersion.POLICY.require(in) < PACKED ? in : new StateReader(Packed.read(in));
        int count = texts.wholeInt();
        PolicyShelf shelf = new PolicyShelf(Policy.parse(texts.text()));
        for (int i = 1; i < count; i++) {
            shelf.policies.add(Policy.parse(texts.text()));
        }
        return shelf;
    }
}
