package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** What every store of people does. */
public abstract class PeopleStoreContract {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private static int names;

    protected abstract PeopleStore store();

    @Test
    void add_nameOfAnother_isRefusedWhateverItsCase() {
        Account account = added(SiteScope.of(List.of("site-1", "site-2")));

        assertThat(store().byName(account.name().toUpperCase(java.util.Locale.ROOT)))
                .contains(new PeopleStore.Known(account, Optional.empty()));
        assertThat(store().account(account.id())).contains(account);
        assertThat(store().accounts()).contains(account);
        Account same = account(account.name().toUpperCase(java.util.Locale.ROOT), SiteScope.EVERY);
        assertThat(store().add(same, note(same))).isFalse();
        assertThat(store().account(same.id())).isEmpty();
    }

    @Test
    void change_ofAnAccount_endsItsSessionsAndNoOthers() {
        Account account = added(SiteScope.EVERY);
        Account other = added(SiteScope.EVERY);
        begin(account, "one", 20);
        begin(account, "two", 20);
        begin(other, "other", 20);

        Account changed = account.with(Role.VIEWER, SiteScope.of(List.of()), Optional.of(NOON));
        store().change(changed, note(account));

        assertThat(store().account(account.id())).contains(changed);
        assertThat(store().entered(hash(account, "one"))).isEmpty();
        assertThat(store().sessions(account.id(), NOON)).isEmpty();
        assertThat(store().entered(hash(other, "other"))).isPresent();
        assertThat(store().notes(1))
                .first()
                .satisfies(line -> assertThat(line.account()).contains(account.id()));
    }

    @Test
    void note_aboutNobody_isKept() {
        AccountNote nobody =
                new AccountNote(NOON, "nobody of that name", Optional.empty(), "sign-in failed", "from here");
        store().note(nobody);
        assertThat(store().notes(1)).containsExactly(nobody);
    }

    @Test
    void setPassword_ofAnAccount_endsItsSessionsAndLinks() {
        Account account = added(SiteScope.EVERY);
        begin(account, "one", 20);
        offer(Optional.of(account.id()), hash(account, "link"), NOON.plusSeconds(60));

        store().setPassword(account.id(), "hash-1", note(account));

        PeopleStore.Known known = store().byName(account.name()).orElseThrow();
        assertThat(known.passwordHash()).contains("hash-1");
        assertThat(known.account().hasPassword()).isTrue();
        assertThat(store().entered(hash(account, "one"))).isEmpty();
        assertThat(store().link(hash(account, "link"), NOON)).isEmpty();
    }

    @Test
    void secondFactor_fromProposalToRemoval_countsStepsAndCodesOnce() {
        Account account = added(SiteScope.EVERY);
        FactorStore factors = store().factors();
        byte[] code = hash(account, "code");
        assertThat(factors.factor(account.id())).isEmpty();
        assertThat(factors.confirm(account.id(), 7, List.of(code), note(account)))
                .isFalse();
        assertThat(factors.propose(account.id(), new byte[] {1}, NOON)).isTrue();
        assertThat(factors.propose(account.id(), new byte[] {2, 3}, NOON))
                .as("another one")
                .isTrue();
        assertThat(factors.use(account.id(), 8)).as("not confirmed").isFalse();
        assertThat(factors.confirmed()).doesNotContain(account.id());

        assertThat(factors.confirm(account.id(), 7, List.of(code, hash(account, "other")), note(account)))
                .isTrue();
        assertThat(factors.factor(account.id())).hasValueSatisfying(factor -> {
            assertThat(factor.secret()).containsExactly(2, 3);
            assertThat(factor.confirmedAt()).isPresent();
            assertThat(factor.codesLeft()).isEqualTo(2);
        });
        assertThat(factors.confirmed()).contains(account.id());
        assertThat(factors.propose(account.id(), new byte[] {4}, NOON)).isFalse();
        assertThat(factors.use(account.id(), 7)).as("confirmed it").isFalse();
        assertThat(factors.use(account.id(), 8)).isTrue();
        assertThat(factors.use(account.id(), 8)).isFalse();
        assertThat(factors.useCode(account.id(), code, note(account))).isTrue();
        assertThat(factors.useCode(account.id(), code, note(account))).isFalse();
        factors.renewCodes(account.id(), List.of(hash(account, "third")), note(account));
        assertThat(factors.useCode(account.id(), hash(account, "other"), note(account)))
                .isFalse();

        begin(account, "one", 20);
        begin(account, "two", 20);
        Session kept = store().entered(hash(account, "one")).orElseThrow().session();
        factors.endSessions(account.id(), Optional.of(kept.id()));
        assertThat(store().entered(hash(account, "two"))).isEmpty();
        assertThat(store().entered(hash(account, "one"))).isPresent();
        factors.endSessions(account.id(), Optional.empty());
        assertThat(store().entered(hash(account, "one"))).isEmpty();

        assertThat(factors.remove(account.id(), note(account))).isTrue();
        assertThat(factors.remove(account.id(), note(account))).isFalse();
        assertThat(factors.factor(account.id())).isEmpty();
    }

    @Test
    void redeem_ofAPassword_worksOnceAndOnlyInTime() {
        Account account = added(SiteScope.EVERY);
        byte[] link = hash(account, "link");
        offer(Optional.of(account.id()), link, NOON.plusSeconds(60));

        assertThat(store().redeem(link, NOON.plusSeconds(60), "late", note(account)))
                .isFalse();
        assertThat(store().redeem(link, NOON.plusSeconds(59), "in-time", note(account)))
                .isTrue();
        assertThat(store().redeem(link, NOON.plusSeconds(59), "again", note(account)))
                .isFalse();
        assertThat(store().byName(account.name()).orElseThrow().passwordHash()).contains("in-time");
    }

    @Test
    void redeem_ofTheFirstAccount_worksOnceAndAnOlderLinkNotAtAll() {
        Account first = account("first-" + names++, SiteScope.EVERY);
        offer(Optional.empty(), hash(first, "old"), NOON.plusSeconds(60));
        offer(Optional.empty(), hash(first, "new"), NOON.plusSeconds(60));

        assertThat(store().redeem(hash(first, "old"), NOON, first, "h", note(first)))
                .isFalse();
        assertThat(store().redeem(hash(first, "new"), NOON, "h", note(first)))
                .as("a set-up link sets no password")
                .isFalse();
        assertThat(store().redeem(hash(first, "new"), NOON, first, "h", note(first)))
                .isTrue();
        Account second = account("second-" + names++, SiteScope.EVERY);
        assertThat(store().redeem(hash(first, "new"), NOON, second, "h", note(second)))
                .isFalse();
        assertThat(store().byName(first.name()).orElseThrow().passwordHash()).contains("h");
    }

    @Test
    void begin_moreThanAreKept_theOldestGo() {
        Account account = added(SiteScope.EVERY);
        for (int i = 0; i < 4; i++) {
            store().begin(session(account, NOON.plusSeconds(i)), hash(account, "s" + i), 2, note(account));
        }
        assertThat(store().entered(hash(account, "s1"))).isEmpty();
        assertThat(store().sessions(account.id(), NOON))
                .extracting(Session::beganAt)
                .containsExactly(NOON.plusSeconds(3), NOON.plusSeconds(2));
    }

    @Test
    void sessions_usedAndIdle_areToldApart() {
        Account account = added(SiteScope.EVERY);
        Session session = begin(account, "one", 20);
        Instant later = NOON.plus(Session.IDLE);

        assertThat(store().sessions(account.id(), later)).isEmpty();
        store().touch(session.id(), later);
        assertThat(store().sessions(account.id(), later)).hasSize(1);
        assertThat(store().entered(hash(account, "one")).orElseThrow().session().usedAt())
                .isEqualTo(later);
        assertThat(store().sessions(account.id(), session.endsAt())).isEmpty();
    }

    @Test
    void end_sessionOfAnother_isRefused() {
        Account account = added(SiteScope.EVERY);
        Account other = added(SiteScope.EVERY);
        Session session = begin(account, "one", 20);

        assertThat(store().end(other.id(), session.id(), note(other))).isFalse();
        assertThat(store().entered(hash(account, "one"))).isPresent();
        assertThat(store().end(account.id(), session.id(), note(account))).isTrue();
        assertThat(store().entered(hash(account, "one"))).isEmpty();
    }

    @Test
    void token_addedUsedAndTakenBack_isThereInBetween() {
        Account account = added(SiteScope.EVERY);
        Account other = added(SiteScope.EVERY);
        ApiToken token = new ApiToken(
                UUID.randomUUID(),
                account.id(),
                "export",
                Role.VIEWER,
                SiteScope.of(List.of("site-1")),
                NOON,
                NOON.plus(Duration.ofDays(9)),
                Optional.empty());
        store().add(token, hash(account, "t"), note(account));
        store().touchToken(token.id(), NOON.plusSeconds(5));

        PeopleStore.Scripted found = store().scripted(hash(account, "t")).orElseThrow();
        assertThat(found.account()).isEqualTo(account);
        assertThat(found.token().usedAt()).contains(NOON.plusSeconds(5));
        assertThat(found.token().sites()).isEqualTo(token.sites());
        assertThat(store().revoke(other.id(), token.id(), note(other))).isFalse();
        assertThat(store().tokens(account.id())).hasSize(1);
        assertThat(store().revoke(account.id(), token.id(), note(account))).isTrue();
        assertThat(store().scripted(hash(account, "t"))).isEmpty();
        assertThat(store().tokens(account.id())).isEmpty();
    }

    private Account added(SiteScope sites) {
        Account account = account("person-" + names++, sites);
        assertThat(store().add(account, note(account))).isTrue();
        return account;
    }

    private static Account account(String name, SiteScope sites) {
        return new Account(UUID.randomUUID(), name, Role.OPERATOR, sites, false, false, NOON, Optional.empty());
    }

    private Session begin(Account account, String token, int keep) {
        Session session = session(account, NOON);
        store().begin(session, hash(account, token), keep, note(account));
        return session;
    }

    private static Session session(Account account, Instant began) {
        return new Session(
                UUID.randomUUID(), account.id(), began, began, began.plus(Session.LONGEST), "192.0.2.1", "a browser");
    }

    private void offer(Optional<UUID> account, byte[] hash, Instant ends) {
        store().offer(new Link(account, NOON, ends), hash, new AccountNote(NOON, "x", account, "link", ""));
    }

    private static byte[] hash(Account account, String token) {
        return Secret.hash(account.id() + token);
    }

    private static AccountNote note(Account account) {
        return new AccountNote(NOON, account.name(), Optional.of(account.id()), "did", "");
    }
}
