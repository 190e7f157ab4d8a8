package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.People.Proved;
import dev.rimecast.alerts.people.SignIn.Outcome;
import dev.rimecast.alerts.view.SiteScope;
import java.net.URI;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** A second factor from the first code to the last. Codes are made by {@link Totp}, which {@code TotpTest} holds to its vectors. */
class SecondFactorsTest {
    private static final String HERE = "192.0.2.1";
    private static final String PHRASE = "seven herons at the quay";

    /** What is asked is which way a sign-in goes, not how the hash is made. */
    private static final PasswordHasher PLAIN = new PasswordHasher() {
        @Override
        public String hash(String password) {
            return "h:" + password;
        }

        @Override
        public boolean matches(String password, String hash) {
            return hash.equals("h:" + password);
        }

        @Override
        public boolean isOutdated(String hash) {
            return false;
        }
    };

    private Instant now = Instant.parse("2026-05-04T12:00:00Z");
    private final PeopleStore store = new MemoryPeopleStore();
    private People people = People.of(store, FactorRule.OPTIONAL, () -> now, PLAIN);

    private Visitor admin() {
        people.links().setUp(people.links().setUp().orElseThrow(), "Ada", PHRASE);
        return in("Ada", "");
    }

    private Visitor in(String name, String code) {
        return people.entrance().bySession(token(signIn(name, code))).orElseThrow();
    }

    private Outcome signIn(String name, String code) {
        return people.signIn().withPassword(name, PHRASE, code, HERE, "a browser");
    }

    private static String token(Outcome outcome) {
        assertThat(outcome).isInstanceOf(Outcome.In.class);
        return ((Outcome.In) outcome).sessionToken();
    }

    private static <T> T done(Answer<T> answer) {
        assertThat(answer).isInstanceOf(Answer.Done.class);
        return ((Answer.Done<T>) answer).value();
    }

    private static <T> T proved(Answer<Proved<T>> answer) {
        assertThat(done(answer)).isInstanceOf(Proved.Yes.class);
        return ((Proved.Yes<T>) done(answer)).value();
    }

    private String code(Account account) {
        return Totp.code(store.factors().factor(account.id()).orElseThrow().secret(), Totp.step(now));
    }

    private List<String> enrolled(Visitor by) {
        proved(people.proposeFactor(by.account(), PHRASE, HERE));
        List<String> codes = done(people.factors().confirm(by, code(by.account())));
        // The code that confirmed is used up.
        now = now.plus(Totp.STEP);
        return codes;
    }

    @Test
    void propose_showsASecret_onlyForThePassword_andAsksForNothingBeforeItIsConfirmed() {
        Visitor ada = admin();
        assertThat(done(people.proposeFactor(ada.account(), "not it at all", HERE)))
                .isEqualTo(new Proved.No<>(new Outcome.Wrong()));
        SecondFactors.Proposal proposal = proved(people.proposeFactor(ada.account(), PHRASE, HERE));
        assertThat(proposal.secret()).matches("[A-Z2-7]{32}");
        URI uri = URI.create(proposal.uri());
        assertThat(uri.getScheme()).isEqualTo("otpauth");
        assertThat(uri.getHost()).isEqualTo("totp");
        assertThat(uri.getPath()).isEqualTo("/Rimecast:Ada");
        assertThat(uri.getQuery()).contains("secret=" + proposal.secret(), "issuer=Rimecast", "digits=6", "period=30");

        assertThat(signIn("Ada", "")).as("not confirmed yet").isInstanceOf(Outcome.In.class);
        assertThat(people.factors().confirm(ada, "000000x")).isInstanceOf(Answer.Refused.class);
        now = now.plus(SecondFactors.TO_CONFIRM);
        assertThat(people.factors().confirm(ada, code(ada.account())))
                .as("too late")
                .isInstanceOf(Answer.Refused.class);
    }

    @Test
    void signIn_withASecondFactor_takesPasswordAndCode_eachCodeOnce() {
        Visitor ada = admin();
        String elsewhere = token(signIn("Ada", ""));
        enrolled(ada);
        assertThat(people.entrance().bySession(elsewhere))
                .as("other sessions end")
                .isEmpty();
        assertThat(people.entrance().sessions(ada.account())).hasSize(1);

        assertThat(signIn("Ada", "")).isInstanceOf(Outcome.CodeNeeded.class);
        assertThat(people.signIn().withPassword("Ada", "wrong password", code(ada.account()), HERE, ""))
                .isInstanceOf(Outcome.Wrong.class);
        String code = code(ada.account());
        assertThat(signIn("Ada", "999999".equals(code) ? "999998" : "999999")).isInstanceOf(Outcome.WrongCode.class);
        assertThat(signIn("Ada", code.substring(0, 3) + ' ' + code.substring(3)))
                .isInstanceOf(Outcome.In.class);
        assertThat(signIn("Ada", code)).as("the same again").isInstanceOf(Outcome.WrongCode.class);
        now = now.plus(Totp.STEP);
        assertThat(signIn("Ada", code)).as("the same a step later").isInstanceOf(Outcome.WrongCode.class);
        assertThat(signIn("Ada", code(ada.account()))).isInstanceOf(Outcome.In.class);
        assertThat(store.notes(50))
                .extracting(AccountNote::what)
                .contains("second factor added", "second factor failed", "signed in");
        assertThat(store.notes(50)).noneMatch(note -> note.detail().contains(code));
    }

    @Test
    void recoveryCodes_letInOnceEach_howeverTheyAreWritten_untilOthersAreMade() {
        Visitor ada = admin();
        List<String> codes = enrolled(ada);
        assertThat(codes)
                .hasSize(SecondFactors.RECOVERY_CODES)
                .doesNotHaveDuplicates()
                .allSatisfy(code -> assertThat(code).matches("([A-Z2-7]{4}-){5}[A-Z2-7]{4}"));
        assertThat(signIn("Ada", codes.get(0))).isInstanceOf(Outcome.In.class);
        assertThat(signIn("Ada", codes.get(0))).isInstanceOf(Outcome.WrongCode.class);
        assertThat(signIn("Ada", codes.get(1).toLowerCase(java.util.Locale.ROOT).replace('-', ' ')))
                .isInstanceOf(Outcome.In.class);
        assertThat(people.factors().standing(ada.account()).codesLeft()).isEqualTo(8);
        assertThat(store.notes(5)).anySatisfy(note -> {
            assertThat(note.what()).isEqualTo("recovery code used");
            assertThat(note.detail()).isEqualTo("8 left");
        });

        List<String> others = proved(people.renewCodes(ada.account(), PHRASE, codes.get(2), HERE));
        assertThat(signIn("Ada", codes.get(3))).isInstanceOf(Outcome.WrongCode.class);
        assertThat(signIn("Ada", others.get(3))).isInstanceOf(Outcome.In.class);
    }

    /** Guessing with a known password: ten wrong ones from anywhere, then a wait that grows; 100 in a row is NIST's limit (SP 800-63B, from memory). */
    @Test
    void guessing_isSlowedDown_fromManyAddressesToo() {
        Visitor ada = admin();
        enrolled(ada);
        Set<Class<?>> seen = new HashSet<>();
        int looked = 0;
        for (int i = 0; i < 500; i++) {
            Outcome outcome = people.signIn().withPassword("Ada", PHRASE, "no code", "198.51.100." + i % 250, "");
            seen.add(outcome.getClass());
            if (outcome instanceof Outcome.WrongCode) {
                looked++;
            }
            now = now.plusSeconds(1);
        }
        assertThat(looked).isBetween(11, 25);
        assertThat(seen).containsExactlyInAnyOrder(Outcome.WrongCode.class, Outcome.Wait.class);
        assertThat(people.signIn().withPassword("Ada", PHRASE, code(ada.account()), "203.0.113.7", ""))
                .as("also the right one waits")
                .isInstanceOf(Outcome.Wait.class);
        now = now.plus(Duration.ofMinutes(16));
        assertThat(people.signIn().withPassword("Ada", PHRASE, code(ada.account()), "203.0.113.7", ""))
                .isInstanceOf(Outcome.In.class);
    }

    @Test
    void remove_takesPasswordAndCode_orAnAdministratorForSomebodyElse() {
        Visitor ada = admin();
        Account ben = done(people.accounts().create(ada, "Ben", Role.OPERATOR, SiteScope.EVERY));
        done(people.links().redeem(done(people.links().offer(ada, ben)), PHRASE));
        Visitor benIn = in("Ben", "");
        enrolled(benIn);
        assertThat(done(people.removeFactor(benIn, PHRASE, "", HERE)))
                .isEqualTo(new Proved.No<>(new Outcome.CodeNeeded()));
        proved(people.removeFactor(benIn, PHRASE, code(ben), HERE));
        assertThat(signIn("Ben", "")).isInstanceOf(Outcome.In.class);

        benIn = in("Ben", "");
        enrolled(benIn);
        enrolled(ada);
        assertThat(people.removeFactorOf(benIn, ada.account().id()))
                .as("may do more")
                .isInstanceOf(Answer.Refused.class);
        assertThat(people.removeFactorOf(ada, ada.account().id())).isInstanceOf(Answer.Refused.class);
        String session = token(signIn("Ben", code(ben)));
        done(people.removeFactorOf(ada, ben.id()));
        assertThat(people.entrance().bySession(session)).isEmpty();
        assertThat(signIn("Ben", "")).isInstanceOf(Outcome.In.class);
        assertThat(store.notes(3)).anySatisfy(note -> {
            assertThat(note.what()).isEqualTo("second factor removed");
            assertThat(note.who()).isEqualTo("Ada");
        });
    }

    @Test
    void rule_administrators_leavesOneWithoutAFactorNothingButToAddIt_norItsTokens() {
        Visitor ada = admin();
        String token = done(people.tokens()
                        .make(ada, "script", Role.ADMINISTRATOR, SiteScope.EVERY, now.plus(Duration.ofDays(1))))
                .secret();
        Account ben = done(people.accounts().create(ada, "Ben", Role.OPERATOR, SiteScope.EVERY));
        done(people.links().redeem(done(people.links().offer(ada, ben)), PHRASE));
        people = People.of(store, FactorRule.ADMINISTRATORS, () -> now, PLAIN);

        ada = in("Ada", "");
        assertThat(ada.permissions()).isEmpty();
        assertThat(people.entrance().byToken(token).orElseThrow().permissions()).isEmpty();
        assertThat(in("Ben", "").permissions()).as("no administrator").isNotEmpty();
        assertThat(people.entrance().seeing(ada.account().id()))
                .as("whose calendars show nothing, too")
                .isEmpty();
        assertThat(people.entrance().seeing(ben.id())).isPresent();

        enrolled(ada);
        assertThat(in("Ada", code(ada.account())).permissions()).contains(Permission.MANAGE_ACCOUNTS);
        assertThat(people.entrance().seeing(ada.account().id())).isPresent();
        assertThat(people.entrance().byToken(token).orElseThrow().permissions()).contains(Permission.MANAGE_ACCOUNTS);
        now = now.plus(Totp.STEP);
        assertThat(people.removeFactor(ada, PHRASE, code(ada.account()), HERE))
                .as("it is asked for")
                .isInstanceOf(Answer.Refused.class);
    }
}
