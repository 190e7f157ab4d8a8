package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.Effect;
import dev.rimecast.alerts.rules.RuleDesk.Check;
import dev.rimecast.alerts.rules.RuleDesk.Current;
import dev.rimecast.alerts.rules.RuleVersion;
import dev.rimecast.telemetry.yaml.YamlProblem;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** The firm's books of rules on the wire. */
public final class RuleJson {
    private RuleJson() {}

    /** What keeps a text from being a book: line from 1, or left out where there is none. */
    public record ProblemJson(String path, Optional<Integer> line, String what) {
        static ProblemJson of(YamlProblem problem) {
            return new ProblemJson(
                    problem.path(),
                    problem.line() > 0 ? Optional.of(problem.line()) : Optional.empty(),
                    problem.what());
        }
    }

    public static List<ProblemJson> problems(List<YamlProblem> problems) {
        return problems.stream().map(ProblemJson::of).toList();
    }

    /**
     * @param version 0 where nothing was ever saved
     * @param standard whether the standard of the product decides
     * @param problems why the newest version is not in force
     */
    public record Summary(
            String book,
            int version,
            boolean standard,
            Optional<Instant> savedAt,
            Optional<String> savedBy,
            Optional<String> reason,
            List<ProblemJson> problems) {
        public static Summary of(Current current) {
            return new Summary(
                    current.book().code(),
                    current.version(),
                    current.isStandard(),
                    current.latest().map(RuleVersion::at),
                    current.latest().map(RuleVersion::who),
                    current.latest().map(RuleVersion::why),
                    RuleJson.problems(current.unreadable()));
        }
    }

    /** @param priority what the text decides, for the priority book that can be read */
    public record Text(Summary state, String text, String standardText, Optional<PriorityJson> priority) {
        public static Text of(Current current) {
            boolean isTable =
                    current.book() == Book.PRIORITY && current.unreadable().isEmpty();
            return new Text(
                    Summary.of(current),
                    current.text(),
                    current.book().standardText(),
                    isTable
                            ? Optional.of(PriorityJson.of(
                                    PriorityBook.parse(current.book().file(), current.text())))
                            : Optional.empty());
        }
    }

    public record Version(
            int version,
            Instant savedAt,
            String savedBy,
            String reason,
            Optional<Integer> restores,
            boolean followsStandard) {
        public static Version of(RuleVersion version) {
            return new Version(
                    version.version(),
                    version.at(),
                    version.who(),
                    version.why(),
                    version.restores(),
                    version.text().isEmpty());
        }
    }

    /** @param saved absent for the standard */
    public record VersionText(int version, Optional<Version> saved, String text) {
        public static VersionText of(RuleVersion version) {
            return new VersionText(version.version(), Optional.of(Version.of(version)), version.textOrStandard());
        }

        public static VersionText standard(Book book) {
            return new VersionText(0, Optional.empty(), book.standardText());
        }
    }

    /** What a text would do, before it is saved. */
    public record Checked(
            List<ProblemJson> problems,
            List<String> notes,
            Optional<EffectJson> effect,
            Optional<PriorityJson> priority) {
        public static Checked of(Check check) {
            return new Checked(
                    RuleJson.problems(check.problems()),
                    check.notes(),
                    check.effect().map(EffectJson::of),
                    check.priority().map(PriorityJson::of));
        }
    }

    /** @param judged how many open alerts were looked at */
    public record EffectJson(int judged, List<ChangeJson> changes) {
        static EffectJson of(Effect effect) {
            return new EffectJson(
                    effect.judged(),
                    effect.changes().stream().map(ChangeJson::of).toList());
        }
    }

    public record ChangeJson(
            String alert, String machine, String siteName, String condition, String from, String to, String why) {
        static ChangeJson of(Effect.Change change) {
            return new ChangeJson(
                    change.alert().toString(),
                    change.machine(),
                    change.siteName(),
                    change.condition().code(),
                    change.from().code(),
                    change.to().code(),
                    change.why());
        }
    }
}
