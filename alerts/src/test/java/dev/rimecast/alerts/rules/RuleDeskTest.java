package dev.rimecast.alerts.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.rules.RuleDesk.Check;
import dev.rimecast.alerts.rules.RuleDesk.Outcome;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class RuleDeskTest {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private static final Person ADA = new Person("ada");
    private static final String STANDARD = Book.LIFE.standardText();
    private static final String LONGER = STANDARD.replace("longest_shelf: 14d", "longest_shelf: 21d");

    private final MemoryRuleStore store = new MemoryRuleStore();
    private final BooksInForce inForce = new BooksInForce();
    private int told;
    private final RuleDesk desk =
            new RuleDesk(store, inForce, RuleDesk.Judgement.NOTHING, InstantSource.fixed(NOON), () -> told++);

    @ParameterizedTest
    @EnumSource(Book.class)
    void current_nothingSaved_isTheStandard(Book book) {
        RuleDesk.Current current = desk.current(book);

        assertThat(current.version()).isZero();
        assertThat(current.isStandard()).isTrue();
        assertThat(current.text()).isEqualTo(book.standardText());
        assertThat(desk.check(book, current.text()).problems()).isEmpty();
        assertThat(desk.check(book, current.text()).notes()).isEmpty();
    }

    @Test
    void save_legalText_isTheNextVersionAndInForceAtOnce() {
        Outcome outcome = desk.save(Book.LIFE, 0, LONGER, ADA, "two weeks are too short in July");

        assertThat(outcome).isInstanceOf(Outcome.Done.class);
        assertThat(inForce.life().longestShelf()).hasDays(21);
        assertThat(told).isEqualTo(1);
        assertThat(desk.versions(Book.LIFE))
                .containsExactly(new RuleVersion(
                        Book.LIFE,
                        1,
                        Optional.of(LONGER),
                        NOON,
                        "ada",
                        "two weeks are too short in July",
                        Optional.empty()));
    }

    @Test
    void save_illegalText_isRefusedWithLineAndPathAndChangesNothing() {
        String wrong = STANDARD.replace("longest_shelf: 14d", "longest_shelf: a while");

        Outcome outcome = desk.save(Book.LIFE, 0, wrong, ADA, "try");

        assertThat(((Outcome.Wrong) outcome).problems()).singleElement().satisfies(problem -> {
            assertThat(problem.path()).isEqualTo("longest_shelf");
            assertThat(STANDARD.lines().toList().get(problem.line() - 1)).startsWith("longest_shelf");
            assertThat(problem.what()).contains("must be a time such as");
        });
        assertThat(desk.versions(Book.LIFE)).isEmpty();
        assertThat(inForce.life().longestShelf()).hasDays(14);
        assertThat(told).isZero();
    }

    @Test
    void save_afterSomebodyElse_isToldAndChangesNothing() {
        desk.save(Book.LIFE, 0, LONGER, ADA, "first");

        Outcome second = desk.save(Book.LIFE, 0, STANDARD.replace("14d", "7d"), new Person("kim"), "second");

        assertThat(((Outcome.Changed) second).current().version()).isEqualTo(1);
        assertThat(inForce.life().longestShelf()).hasDays(21);
    }

    @Test
    void save_whatIsThereAlready_isSaid() {
        assertThat(desk.save(Book.LIFE, 0, STANDARD, ADA, "nothing")).isInstanceOf(Outcome.Same.class);
        assertThat(desk.versions(Book.LIFE)).isEmpty();
    }

    @Test
    void rollBack_toAVersionAndToTheStandard_areNewVersions() {
        desk.save(Book.LIFE, 0, LONGER, ADA, "longer");
        desk.save(Book.LIFE, 1, STANDARD.replace("14d", "7d"), ADA, "shorter");

        assertThat(desk.rollBack(Book.LIFE, 2, 1, ADA, "longer was right")).isInstanceOf(Outcome.Done.class);
        assertThat(inForce.life().longestShelf()).hasDays(21);
        assertThat(desk.rollBack(Book.LIFE, 3, 0, ADA, "follow the product")).isInstanceOf(Outcome.Done.class);

        RuleVersion newest = desk.versions(Book.LIFE).get(0);
        assertThat(newest.version()).isEqualTo(4);
        assertThat(newest.text()).isEmpty();
        assertThat(newest.restores()).contains(0);
        assertThat(desk.current(Book.LIFE).isStandard()).isTrue();
        assertThat(desk.versions(Book.LIFE)).hasSize(4);
        assertThat(desk.rollBack(Book.LIFE, 4, 0, ADA, "again")).isInstanceOf(Outcome.Same.class);
        assertThat(desk.rollBack(Book.LIFE, 4, 9, ADA, "what")).isInstanceOf(Outcome.NoSuchVersion.class);
    }

    /** A text that an earlier version of the product has accepted. */
    @Test
    void refresh_textThatCannotBeReadAnyMore_fallsBackToTheStandardAndSaysSo() {
        store.append(old(1, STANDARD + "\nold_key: 1\n"));
        inForce.refresh(store);

        assertThat(inForce.life()).isEqualTo(RuleBooks.STANDARD.life());
        assertThat(inForce.problem())
                .contains("version 1 of the firm's book life")
                .contains("old_key")
                .contains("the standard is used");
        assertThat(desk.current(Book.LIFE).isStandard()).isTrue();
        assertThat(desk.current(Book.LIFE).text()).contains("old_key");
        assertThat(desk.rollBack(Book.LIFE, 1, 1, ADA, "?")).isInstanceOf(Outcome.Same.class);

        assertThat(desk.save(Book.LIFE, 1, LONGER, ADA, "brought up to date")).isInstanceOf(Outcome.Done.class);
        assertThat(inForce.problem()).isEmpty();
        assertThat(inForce.life().longestShelf()).hasDays(21);
        assertThat(desk.rollBack(Book.LIFE, 2, 1, ADA, "?")).isInstanceOf(Outcome.Wrong.class);
    }

    @Test
    void refresh_unreadableAfterAReadableOne_isTheStandardNotTheOneBefore() {
        desk.save(Book.LIFE, 0, LONGER, ADA, "longer");
        store.append(old(2, "nearness: 3"));
        inForce.refresh(store);

        assertThat(inForce.life()).isEqualTo(RuleBooks.STANDARD.life());
    }

    @Test
    void refresh_anotherBookUnreadable_leavesTheRestInForce() {
        desk.save(Book.LIFE, 0, LONGER, ADA, "longer");
        store.append(
                new RuleVersion(Book.CASES, 1, Optional.of("version: x"), NOON, "ada", "of old", Optional.empty()));
        inForce.refresh(store);

        assertThat(inForce.life().longestShelf()).hasDays(21);
        assertThat(inForce.cases()).isEqualTo(RuleBooks.STANDARD.cases());
        assertThat(inForce.problem()).contains("book cases").doesNotContain("book life");
    }

    @Test
    void check_whatSaysLessThanTheStandard_isNoted() {
        Check unlatched = desk.check(Book.LIFE, STANDARD.replace("latching: [stopped-by-protection]", "latching: []"));
        Check silenced = desk.check(
                Book.LIFE,
                STANDARD.replaceFirst(
                        "conditions: \\[machine-silent, gateway-silent]",
                        "conditions: [machine-silent, gateway-silent, high-condensing-temperature]"));

        assertThat(unlatched.notes()).singleElement().asString().contains("stopped-by-protection");
        assertThat(silenced.notes())
                .singleElement()
                .asString()
                .contains("usually-silent")
                .contains("high-condensing-temperature");
    }

    @Test
    void check_priorityThatLowersWhatTheStandardNever_isNotedAndTriedOnOpenAlerts() {
        Effect effect = new Effect(3, List.of());
        RuleDesk judging = new RuleDesk(store, inForce, book -> effect, InstantSource.fixed(NOON), () -> {});
        String lowering = Book.PRIORITY.standardText()
                + "  - {words: Not now., when: {found: [high], conditions: [drain-pump-overrun]}, priority: low}\n";

        Check check = judging.check(Book.PRIORITY, lowering);

        assertThat(check.problems()).isEmpty();
        assertThat(check.notes()).singleElement().asString().contains(Condition.DRAIN_PUMP_OVERRUN.code());
        assertThat(check.effect()).contains(effect);
        assertThat(store.newest()).isEmpty();
    }

    @Test
    void check_textThatIsNoBook_isToldNotThrown() {
        for (String text : List.of("", "- a", ": [", "\t", "[".repeat(20_000), "a: &a [*a]", "x".repeat(300_000))) {
            assertThat(desk.check(Book.PRIORITY, text).problems()).isNotEmpty();
        }
    }

    private static RuleVersion old(int version, String text) {
        return new RuleVersion(Book.LIFE, version, Optional.of(text), NOON, "ada", "from before", Optional.empty());
    }
}
