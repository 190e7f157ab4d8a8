package dev.rimecast.analytics.policy;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The thresholds in force: one set for every machine, and what model groups have otherwise. */
public final class Policy {
    private static final int KEPT = 8;

    /** By their texts, those that were asked for last: each site of a fleet has the text of the same few, and computing their limits takes time. */
    private static final Map<String, Policy> RECENT =
            Collections.synchronizedMap(new LinkedHashMap<>(2 * KEPT, 0.75f, true) {
                private static final long serialVersionUID = 1;

                @Override
                protected boolean removeEldestEntry(Map.Entry<String, Policy> eldest) {
                    return size() > KEPT;
                }
            });

    private final String version;
    private final String yaml;
    private final GroupPolicy all;
    private final Map<String, GroupPolicy> groups;

    Policy(String version, String yaml, GroupPolicy all, Map<String, GroupPolicy> groups) {
        this.version = version;
        this.yaml = yaml;
        this.all = all;
        this.groups = Map.copyOf(groups);
    }

    /** The policy that ships with this version: the resource {@code policy.yaml}. */
    public static Policy standard() {
        return StandardPolicy.POLICY;
    }

    /**
     * Reads a policy. What it does not say is as in {@link #standard()}.
     *
     * @throws dev.rimecast.telemetry.yaml.YamlProblems if anything in it is wrong; lists every problem with its key
     */
    public static Policy parse(String yaml) {
        return parse("policy", yaml);
    }

    /** @param source of the text, such as the name of its file: whatever is wrong in it begins with that */
    public static Policy parse(String source, String yaml) {
        if (yaml.equals(StandardPolicy.POLICY.yaml)) {
            return StandardPolicy.POLICY;
        }
        Policy known = RECENT.get(yaml);
        if (known == null) {
            known = PolicyReader.read(source, yaml);
            RECENT.put(yaml, known);
        }
        return known;
    }

    /** Its name; every finding carries it. */
    public String version() {
        return version;
    }

    /** The whole text it was read from. */
    public String yaml() {
        return yaml;
    }

    /** Model groups with numbers of their own. */
    public Set<String> groups() {
        return groups.keySet();
    }

    /** The numbers for a machine of the model group, those for every machine where the group has none of its own. */
    public GroupPolicy forGroup(Optional<String> modelGroup) {
        return modelGroup.isEmpty() ? all : groups.getOrDefault(modelGroup.get(), all);
    }
}
