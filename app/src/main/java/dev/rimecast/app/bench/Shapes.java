package dev.rimecast.app.bench;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyForm;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Differing;
import dev.rimecast.dashboard.bench.Sheet;
import dev.rimecast.dashboard.bench.Trial;
import dev.rimecast.dashboard.bench.Version;
import dev.rimecast.history.compare.Difference;
import dev.rimecast.history.compare.Raised;
import dev.rimecast.history.trial.TrialResult;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** What detection and the history say, as the pages take it. */
final class Shapes {
    /** Differences that are listed; more are counted. */
    static final int MOST_LISTED = 300;

    private static final int MOST_PROBLEMS = 20;

    private Shapes() {}

    static Sheet sheet(Version version, Policy policy, boolean canLookBack) {
        List<Sheet.Number> numbers = new ArrayList<>();
        for (PolicyForm.Entry entry : PolicyForm.standard().entries()) {
            numbers.add(new Sheet.Number(
                    entry.path(),
                    PolicyForm.value(policy, entry),
                    entry.standard(),
                    entry.range().least(),
                    entry.range().most(),
                    entry.unit(),
                    entry.text(),
                    PolicyForm.ofGroups(policy, entry).entrySet().stream()
                            .map(own -> new Sheet.OfGroup(own.getKey(), own.getValue()))
                            .toList()));
        }
        boolean isStandard = PolicyForm.differences(Policy.standard(), policy).isEmpty();
        return new Sheet(version, isStandard, canLookBack, numbers, policy.yaml());
    }

    /** The newest first, each with what it changed. */
    static List<Version> versions(List<PolicyChange> changes) {
        List<Version> versions = new ArrayList<>();
        for (int i = 0; i < changes.size(); i++) {
            Optional<PolicyChange> before = i + 1 < changes.size() ? Optional.of(changes.get(i + 1)) : Optional.empty();
            versions.add(version(changes.get(i), before));
        }
        return List.copyOf(versions);
    }

    static Version version(PolicyChange change, Optional<PolicyChange> before) {
        Optional<Policy> policy = read(change.yaml());
        List<Sheet.Change> changes = policy.isPresent()
                ? changes(before.flatMap(was -> read(was.yaml())).orElse(Policy.standard()), policy.get())
                : List.of();
        return new Version(
                change.number(),
                policy.map(Policy::version).orElse(change.version()),
                change.source().name().toLowerCase(Locale.ROOT),
                change.at(),
                change.who(),
                change.why(),
                change.restores(),
                change.trial(),
                changes);
    }

    /** Empty for a text of another version of the product that this one can't read. */
    static Optional<Policy> read(String yaml) {
        try {
            return Optional.of(Policy.parse(yaml));
        } catch (YamlProblems unreadable) {
            return Optional.empty();
        }
    }

    static List<Sheet.Change> changes(Policy before, Policy after) {
        return PolicyForm.differences(before, after).stream()
                .map(each -> new Sheet.Change(each.group(), each.path(), each.before(), each.after()))
                .toList();
    }

    /** A policy from a file beside the one in force. */
    static Bench.FileRead file(String yaml, Policy inForce) {
        try {
            Policy read = Policy.parse(yaml);
            List<Sheet.Change> all = changes(inForce, read);
            List<Sheet.Change> ofAll =
                    all.stream().filter(each -> each.group().isEmpty()).toList();
            return new Bench.FileRead.Read(
                    read.version(),
                    ofAll,
                    all.stream()
                            .filter(each -> each.group().isPresent())
                            .filter(each -> ofAll.stream().noneMatch(other -> isSame(each, other)))
                            .toList());
        } catch (YamlProblems unreadable) {
            return new Bench.FileRead.Unreadable(unreadable.problems().stream()
                    .limit(MOST_PROBLEMS)
                    .map(problem -> new Bench.FileRead.Wrong(problem.line(), problem.path(), problem.what()))
                    .toList());
        }
    }

    /** Whether a group only follows what all machines have. */
    private static boolean isSame(Sheet.Change ofGroup, Sheet.Change ofAll) {
        return ofGroup.path().equals(ofAll.path())
                && ofGroup.before() == ofAll.before()
                && ofGroup.after() == ofAll.after();
    }

    static Trial.Result result(TrialResult of) {
        return new Trial.Result(
                of.reached(),
                of.currentRaised(),
                of.candidateRaised(),
                of.same(),
                of.isWhole(),
                of.differences().size() + of.leftOut(),
                differing(of.differences(), Map.of()));
    }

    /** @param judged by id of the alert */
    static List<Differing> differing(List<Difference> differences, Map<String, String> judged) {
        return differences.stream()
                .limit(MOST_LISTED)
                .map(each -> differing(each, judged))
                .toList();
    }

    private static Differing differing(Difference of, Map<String, String> judged) {
        Raised either = of.either();
        return new Differing(
                of.kind().name().toLowerCase(Locale.ROOT).replace('_', '-'),
                either.site(),
                either.machine(),
                either.gateway(),
                either.condition().code(),
                either.cause(),
                either.summary(),
                of.current().map(Shapes::stood),
                of.candidate().map(Shapes::stood),
                Optional.ofNullable(judged.get(either.id().toString())));
    }

    private static Differing.Stood stood(Raised raised) {
        return new Differing.Stood(
                raised.raisedAt(), raised.clearedAt(), raised.priority().code());
    }
}
