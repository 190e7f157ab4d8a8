package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.alerts.people.PeopleStore;
import dev.rimecast.alerts.people.PeopleStoreContract;
import java.time.Instant;
import java.util.Optional;
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
