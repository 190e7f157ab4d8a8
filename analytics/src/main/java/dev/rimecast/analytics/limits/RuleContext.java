package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.OpenFinding;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;

/** What every rule about one machine needs: its row, the numbers in force, and where to say what it finds. */
public final class RuleContext {
    private final Machine machine;
    private final PolicyShelf policies;
    private final SiteWeather weather;
    private final GroupPolicy policy;
    private final ControllerLimits limits;
    private final FindingBook book;
    private Consumer<Finding> out = finding -> {};
    private Reports reports = Reports.ALL;

    public RuleContext(Machine machine, PolicyShelf policies, SiteWeather weather, FindingBook book) {
        this.machine = machine;
        this.weather = weather;
        this.policies = policies;
        this.policy = policies.current().forGroup(machine.modelGroup());
        this.limits = ControllerLimits.of(machine, policy);
        this.book = book;
        book.about(machine);
    }

    /** Where findings go from now on. */
    public void out(Consumer<Finding> next) {
        out = next;
    }

    /** Who hears of what rules report before it is taken. */
    public void through(Reports next) {
        reports = next;
    }

    public Machine machine() {
        return machine;
    }

    /** The numbers in force. */
    public GroupPolicy policy() {
        return policy;
    }

    /** The numbers for a condition: those under which it was raised while it is open, else those in force. */
    public GroupPolicy policy(Condition condition) {
        Optional<OpenFinding> open = book.get(condition);
        if (open.isEmpty()) {
            return policy;
        }
        Policy raisedUnder = policies.named(open.get().policyVersion());
        return raisedUnder.forGroup(machine.modelGroup());
    }

    /** The weather at the machine's site. */
    public SiteWeather weather() {
        return weather;
    }

    public ControllerLimits limits() {
        return limits;
    }

    public String policyVersion() {
        return policies.current().version();
    }

    public boolean isOpen(Condition condition) {
        return book.isOpen(condition);
    }

    /** Whether it is open and has not come to a limit or a stop. */
    public boolean isEarly(Condition condition) {
        return book.get(condition).filter(open -> open.stage() == Stage.EARLY).isPresent();
    }

    /** Whether it is open, and soon after it had ended the last time. */
    public boolean hasComeBack(Condition condition) {
        return book.hasComeBack(condition);
    }

    /** Whether one of them is open. */
    public boolean isAnyOpen(List<Condition> conditions) {
        return book.isAnyOpen(conditions);
    }

    public Optional<OpenFinding> open(Condition condition) {
        return book.get(condition);
    }

    public void report(Condition condition, long millis, Assessment assessment) {
        if (reports.isTaken(condition, millis, assessment)) {
            book.report(condition, millis, assessment, policyVersion(), policy(condition), out);
        }
    }

    /**
     * The same where words cost much, which most cycles of a fault that stands need not have.
     *
     * @param bare without evidence, measure and summary: all that decides whether there is anything to say
     * @param inWords all of it
     */
    public void report(Condition condition, long millis, Assessment bare, Supplier<Assessment> inWords) {
        if (reports.isTaken(condition, millis, bare) && book.isNews(condition, millis, bare, policy(condition))) {
            book.report(condition, millis, inWords.get(), policyVersion(), policy(condition), out);
        }
    }

    public void clear(Condition condition, long millis, String summary) {
        if (reports.isOver(condition, millis, summary)) {
            book.clear(condition, millis, summary, out);
        }
    }

    /** Ends what has come back often and then no more; to be called now and then. */
    public void passed(long millis) {
        book.passed(millis, this::policy, out);
    }
}
