package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.SignIn.Outcome;
import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class PeopleTest {
    private static final String HERE = "192.0.2.1";
    private static final String PHRASE = "seven herons at the quay";
    private static final SiteScope ONE = SiteScope.of(List.of("site-1"));

    /** Reversible, and counts: what is asked is which way a sign-in goes, not how the hash is made. */
    private static final class CountingHasher implements PasswordHasher {
        private int matched;

        @Override
        public String hash(String password) {
            return "h:" + password;
        }

        @Override
        public boolean matches(String password, String hash) {
            matched++;
            return hash.endsWith(":" + password);
        }

        @Override
        public boolean isOutdated(String hash) {
            return hash.startsWith("old:");
        }
    }

    private Instant now = Instant.parse("2026-05-04T12:00:00Z");
    private final CountingHasher hasher = new CountingHasher();
    private final PeopleStore store = new MemoryPeopleStore();
    private final People people = People.of(store, FactorRule.OPTIONAL, () -> now, hasher);
    private final Visitor admin = setUp();

    private Visitor setUp() {
        String link = people.links().setUp().orElseThrow();
        assertThat(people.links().setUp(link, "Ada", PHRASE)).isInstanceOf(Answer.Done.class);
        return visitor(signIn("Ada", PHRASE));
    }

    private Outcome signIn(String name, String password) {
        return people.signIn().withPassword(name, password, HERE, "a browser");
    }

    private Visitor visitor(Outcome outcome) {
        return people.entrance().bySession(token(outcome)).orElseThrow();
    }

    private static String token(Outcome outcome) {
        assertThat(outcome).isInstanceOf(Outcome.In.class);
        return ((Outcome.In) outcome).sessionToken();
    }

    private Account person(String name, Role role, SiteScope sites) {
        Account made = done(people.accounts().create(admin, name, role, sites));
        String link = done(people.links().offer(admin, made));
        return done(people.links().redeem(link, PHRASE));
    }

    private static <T> T done(Answer<T> answer) {
        assertThat(answer).isInstanceOf(Answer.Done.class);
        return ((Answer.Done<T>) answer).value();
    }

    private static void refused(Answer<?> answer, String why) {
        assertThat(answer)
                .isInstanceOfSatisfying(
                        Answer.Refused.class, r -> assertThat(r.reason()).contains(why));
    }

    @Test
    void setUpLink_used_isUsedUpAndNoneIsMadeAnyMore() {
        assertThat(people.links().setUp()).isEmpty();
        assertThat(admin.account().role()).isEqualTo(Role.ADMINISTRATOR);
    }

    @Test
    void setUpLink_afterAnHour_isOver() {
        People fresh = People.of(new MemoryPeopleStore(), FactorRule.OPTIONAL, () -> now, hasher);
        String first = fresh.links().setUp().orElseThrow();
        String second = fresh.links().setUp().orElseThrow();

        assertThat(fresh.links().setUp(first, "Ada", PHRASE)).as("replaced").isInstanceOf(Answer.NotFound.class);
        refused(fresh.links().setUp(second, "Ada", "passwordpassword"), "first that are tried");
        now = now.plus(Duration.ofHours(1));
        assertThat(fresh.links().setUp(second, "Ada", PHRASE)).isInstanceOf(Answer.NotFound.class);
        assertThat(fresh.links().setUp()).isPresent();
    }

    /** The path is the same, so the time is about the same: one hash in each case. */
    @Test
    void signIn_whateverIsWrong_computesOneHashAndSaysTheSame() {
        Account disabled = person("Dee", Role.VIEWER, ONE);
        people.accounts().change(admin, disabled.id(), Role.VIEWER, ONE, true);
        done(people.accounts().create(admin, "Nopass", Role.VIEWER, ONE));

        for (String name : List.of("nobody-at-all", "Dee", "Nopass", "Ada")) {
            int before = hasher.matched;
            int noted = store.notes(1_000).size();
            String password = name.equals("Ada") ? "something quite else" : PHRASE;
            assertThat(signIn(name, password)).as(name).isEqualTo(new Outcome.Wrong());
            assertThat(hasher.matched - before).as("hashes for %s", name).isEqualTo(1);
            assertThat(store.notes(1_000).size() - noted)
                    .as("notes for %s", name)
                    .isEqualTo(1);
        }
        int before = hasher.matched;
        signIn("ada", PHRASE);
        assertThat(hasher.matched - before).isEqualTo(1);
    }

    @Test
    void signIn_tooManyFailures_waitsWithoutLookingAndThenLetsIn() {
        for (int i = 0; i < 5; i++) {
            signIn("Ada", "wrong wrong wrong");
        }
        int before = hasher.matched;
        Outcome sixth = signIn("Ada", PHRASE);

        assertThat(sixth).isInstanceOfSatisfying(Outcome.Wait.class, wait -> now = now.plus(wait.left()));
        assertThat(hasher.matched).isEqualTo(before);
        assertThat(signIn("Ada", PHRASE)).isInstanceOf(Outcome.In.class);
    }

    @Test
    void signIn_twice_givesTwoTokensOfWhichNeitherIsKept() {
        String one = token(signIn("Ada", PHRASE));
        String other = token(signIn("Ada", PHRASE));

        assertThat(one).hasSize(43).isNotEqualTo(other);
        assertThat(Secret.forgeryToken(one))
                .isNotEqualTo(Secret.forgeryToken(other))
                .doesNotContain(one);
        assertThat(people.entrance().bySession(one)).isPresent();
        assertThat(people.entrance().bySession(one + "x")).isEmpty();
        assertThat(store.notes(100).toString()).doesNotContain(one).doesNotContain(PHRASE);
    }

    @Test
    void signIn_hashOfWeakerParameters_isRenewed() {
        store.renewHash(admin.account().id(), "old:" + PHRASE);

        assertThat(signIn("Ada", PHRASE)).isInstanceOf(Outcome.In.class);
        assertThat(store.byName("Ada").orElseThrow().passwordHash()).contains("h:" + PHRASE);
    }

    @Test
    void session_idleOrOld_isOver() {
        String idle = token(signIn("Ada", PHRASE));
        now = now.plus(Session.IDLE);
        assertThat(people.entrance().bySession(idle)).isEmpty();

        String used = token(signIn("Ada", PHRASE));
        Instant end = now.plus(Session.LONGEST);
        while (now.isBefore(end)) {
            assertThat(people.entrance().bySession(used)).isPresent();
            now = now.plus(Duration.ofMinutes(20));
        }
        assertThat(people.entrance().bySession(used)).isEmpty();
    }

    @Test
    void sessions_passwordRoleSitesOrDisabled_allEnd() {
        Account noor = person("Noor", Role.OPERATOR, ONE);
        long changes = people.entrance().changes();
        String first = token(signIn("Noor", PHRASE));
        done(people.links().change(noor, "a second phrase of hers"));
        assertThat(people.entrance().bySession(first)).isEmpty();
        assertThat(people.entrance().changes()).isGreaterThan(changes);

        for (Role role : List.of(Role.ENGINEER, Role.ENGINEER)) {
            String token = token(signIn("Noor", "a second phrase of hers"));
            people.accounts().change(admin, noor.id(), role, SiteScope.EVERY, false);
            assertThat(people.entrance().bySession(token)).isEmpty();
        }
        String last = token(signIn("Noor", "a second phrase of hers"));
        people.accounts().change(admin, noor.id(), Role.ENGINEER, SiteScope.EVERY, true);
        assertThat(people.entrance().bySession(last)).isEmpty();
        assertThat(signIn("Noor", "a second phrase of hers")).isEqualTo(new Outcome.Wrong());
    }

    @Test
    void administrator_ofOneSite_knowsAndMakesOnlyAccountsOfIt() {
        Account elsewhere = person("Eli", Role.OPERATOR, SiteScope.of(List.of("site-2")));
        Account both = person("Bo", Role.OPERATOR, SiteScope.of(List.of("site-1", "site-2")));
        person("Lou", Role.ADMINISTRATOR, ONE);
        Visitor lou = visitor(signIn("Lou", PHRASE));

        assertThat(people.accounts().list(lou)).extracting(Account::name).containsExactly("Lou");
        for (UUID id : List.of(elsewhere.id(), both.id(), admin.account().id())) {
            assertThat(people.accounts().one(lou, id)).isEmpty();
            assertThat(people.accounts().change(lou, id, Role.VIEWER, ONE, true))
                    .isInstanceOf(Answer.NotFound.class);
        }
        refused(people.accounts().create(lou, "Max", Role.VIEWER, SiteScope.EVERY), "sites that you don't see");
        done(people.accounts().create(lou, "Max", Role.VIEWER, ONE));
    }

    @Test
    void change_ofTheLastWhoCanManage_isRefused() {
        refused(
                people.accounts().change(admin, admin.account().id(), Role.MANAGER, SiteScope.EVERY, false),
                "last account");
        refused(people.accounts().change(admin, admin.account().id(), Role.ADMINISTRATOR, ONE, false), "last account");
        person("Second", Role.ADMINISTRATOR, SiteScope.EVERY);
        done(people.accounts().change(admin, admin.account().id(), Role.MANAGER, SiteScope.EVERY, false));
    }

    @Test
    void create_badOrForeignName_isRefused() {
        for (String name : List.of("", "x", " Ada", "a\nb", "Detection", "x".repeat(61))) {
            assertThat(people.accounts().create(admin, name, Role.VIEWER, ONE))
                    .as(name)
                    .isInstanceOf(Answer.Refused.class);
        }
        refused(people.accounts().create(admin, "ADA", Role.VIEWER, ONE), "already");
    }

    @Test
    void resetLink_used_setsThePasswordOnce() {
        Account noor = person("Noor", Role.OPERATOR, ONE);
        String link = done(people.links().offer(admin, noor));
        refused(people.links().redeem(link, "short"), "at least 12");
        done(people.links().redeem(link, "a second phrase of hers"));

        assertThat(people.links().redeem(link, PHRASE)).isInstanceOf(Answer.NotFound.class);
        assertThat(signIn("Noor", "a second phrase of hers")).isInstanceOf(Outcome.In.class);
    }

    /** Whoever holds the link chooses the password, and so comes in as the account. */
    @Test
    void resetLink_forAnAccountThatMayDoMore_isRefused() {
        person("Mara", Role.MANAGER, SiteScope.EVERY);
        Visitor manager = visitor(signIn("Mara", PHRASE));

        refused(people.links().offer(manager, admin.account()), "more than you");
        done(people.links().offer(manager, person("Noor", Role.VIEWER, ONE)));
    }

    @Test
    void token_neverHasMoreThanItsMaker_alsoLater() {
        Account noor = person("Noor", Role.OPERATOR, SiteScope.of(List.of("site-1", "site-2")));
        Visitor maker = visitor(signIn("Noor", PHRASE));
        Instant end = now.plus(Duration.ofDays(30));
        refused(people.tokens().make(maker, "x", Role.ENGINEER, ONE, end), "more than you");
        refused(people.tokens().make(maker, "x", Role.VIEWER, SiteScope.EVERY, end), "sites");
        refused(people.tokens().make(maker, "x", Role.VIEWER, ONE, now.plus(Duration.ofDays(400))), "within a year");
        refused(people.tokens().make(maker, " ", Role.VIEWER, ONE, end), "name");
        Tokens.Made made = done(people.tokens().make(maker, "export", Role.OPERATOR, maker.sites(), end));

        Visitor script = people.entrance().byToken(made.secret()).orElseThrow();
        assertThat(script.person().name()).isEqualTo("Noor, by token export");
        assertThat(script.may(Permission.ACKNOWLEDGE)).isTrue();

        people.accounts().change(admin, noor.id(), Role.VIEWER, ONE, false);
        Visitor less = people.entrance().byToken(made.secret()).orElseThrow();
        assertThat(less.permissions()).isEqualTo(Set.of(Permission.SEE_FLEET, Permission.SEE));
        assertThat(less.sites()).isEqualTo(ONE);

        now = end;
        assertThat(people.entrance().byToken(made.secret())).isEmpty();
    }

    @Test
    void token_takenBackOrOfADisabledMaker_isOver() {
        Account noor = person("Noor", Role.OPERATOR, ONE);
        Visitor maker = visitor(signIn("Noor", PHRASE));
        Tokens.Made one = done(people.tokens().make(maker, "one", Role.VIEWER, ONE, now.plus(Duration.ofDays(1))));
        Tokens.Made two = done(people.tokens().make(maker, "two", Role.VIEWER, ONE, now.plus(Duration.ofDays(1))));

        assertThat(people.tokens().revoke(admin, one.token().id()))
                .as("not the admin's own")
                .isFalse();
        assertThat(people.tokens().revoke(maker, one.token().id())).isTrue();
        assertThat(people.entrance().byToken(one.secret())).isEmpty();
        people.accounts().change(admin, noor.id(), Role.OPERATOR, ONE, true);
        assertThat(people.entrance().byToken(two.secret())).isEmpty();
    }

    @Test
    void demo_account_isEnteredWithoutAPasswordAndHasNone() {
        Account demo = people.accounts().demo("demo operator", Role.OPERATOR, SiteScope.EVERY);
        assertThat(people.accounts().demo("demo operator", Role.OPERATOR, SiteScope.EVERY))
                .isEqualTo(demo);

        assertThat(people.signIn().asDemo(demo.id(), HERE, "b")).isPresent();
        assertThat(people.signIn().asDemo(admin.account().id(), HERE, "b")).isEmpty();
        assertThat(signIn("demo operator", "")).isEqualTo(new Outcome.Wrong());
        refused(people.links().offer(admin, demo), "no password");
        refused(people.links().change(demo, PHRASE), "no password");
        People alone = People.of(new MemoryPeopleStore(), FactorRule.OPTIONAL, () -> now, hasher);
        alone.accounts().demo("demo administrator", Role.ADMINISTRATOR, SiteScope.EVERY);
        assertThat(alone.links().setUp())
                .as("a demo account is no administrator of serve")
                .isPresent();
    }

    @Test
    void audit_ofWhatWasDone_namesWhoAndWhatButNoSecret() {
        Account noor = person("Noor", Role.OPERATOR, ONE);
        signIn("Noor", "wrong wrong wrong");
        people.accounts().change(admin, noor.id(), Role.VIEWER, ONE, false);

        assertThat(store.notes(100).stream()
                        .filter(line -> line.account().equals(Optional.of(noor.id())))
                        .map(line -> line.who() + ": " + line.what() + " " + line.detail()))
                .containsExactly(
                        "Ada: account changed viewer, sites site-1",
                        "Noor: sign-in failed from " + HERE,
                        "Noor: password set by link ",
                        "Ada: password link made ",
                        "Ada: account made operator, sites site-1");
        assertThat(new TreeSet<>(List.of(store.notes(100).toString().split("\\s"))))
                .doesNotContain("h:" + PHRASE);
    }
}
