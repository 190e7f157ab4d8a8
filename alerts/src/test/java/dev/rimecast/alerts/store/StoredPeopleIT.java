package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.alerts.people.PeopleStore;
import dev.rimecast.alerts.people.PeopleStoreContract;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.visits.calendar.CalendarLink;
import dev.rimecast.alerts.visits.calendar.CalendarLinkStore;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** The contract on a real database, and what that refuses besides. */
@TestInstance(Lifecycle.PER_CLASS)
class StoredPeopleIT extends PeopleStoreContract {
    @AutoClose
    private OwnDatabase own;

    private PeopleStore store;

    @BeforeAll
    void start() {
        own = new OwnDatabase();
        store = new StoredPeople(own.database());
    }

    @Override
    protected PeopleStore store() {
        return store;
    }

    /** A thief of a session may have made one, and whoever changes the password wants them out. */
    @Test
    void setPassword_ofAnAccount_endsItsCalendars_butNotThoseOfOthers() {
        Account account = account("calendars");
        Account other = account("others");
        store.add(account, note(account));
        store.add(other, note(other));
        CalendarLinkStore calendars = new StoredCalendarLinks(own.database());
        calendars.add(link(account), new byte[] {1});
        calendars.add(link(other), new byte[] {2});

        store.setPassword(account.id(), "hash", note(account));

        assertThat(calendars.of(account.id())).isEmpty();
        assertThat(calendars.find(new byte[] {1}).flatMap(CalendarLink::revokedBy))
                .isPresent();
        assertThat(calendars.of(other.id())).hasSize(1);
    }

    private static Account account(String name) {
        return new Account(
                UUID.randomUUID(), name, Role.OPERATOR, SiteScope.EVERY, false, false, Instant.EPOCH, Optional.empty());
    }

    private static AccountNote note(Account account) {
        return new AccountNote(Instant.EPOCH, account.name(), Optional.of(account.id()), "test", "");
    }

    private static CalendarLink link(Account account) {
        return new CalendarLink(
                UUID.randomUUID(), account.id(), Optional.empty(), account.name(), Instant.EPOCH, Optional.empty());
    }

    @Test
    void audit_ofAccounts_canOnlyBeAddedTo() {
        store.note(new AccountNote(Instant.EPOCH, "x", Optional.empty(), "did", ""));

        for (String sql : new String[] {
            "update account_audit set who = 'y'", "delete from account_audit", "truncate account_audit"
        }) {
            assertThatThrownBy(() -> own.database().jdbi().useHandle(handle -> handle.execute(sql)))
                    .hasMessageContaining("append-only");
        }
    }
}
