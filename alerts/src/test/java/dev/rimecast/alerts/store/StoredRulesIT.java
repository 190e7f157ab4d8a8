package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.RuleStore;
import dev.rimecast.alerts.rules.RuleStoreContract;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** The contract on a real database, and what that refuses besides. */
@TestInstance(Lifecycle.PER_CLASS)
class StoredRulesIT extends RuleStoreContract {
    @AutoClose
    private OwnDatabase own;

    private RuleStore store;

    @BeforeAll
    void start() {
        own = new OwnDatabase();
        store = new StoredRules(own.database());
    }

    @Override
    protected RuleStore store() {
        return store;
    }

    @Test
    void append_manyAtOnce_oneOfThemWins() throws Exception {
        ExecutorService threads = Executors.newFixedThreadPool(6);
        for (int version = 1; version <= 20; version++) {
            int next = version;
            List<Callable<Boolean>> saves = IntStream.range(0, 6)
                    .<Callable<Boolean>>mapToObj(i -> () ->
                            store.append(version(Book.PRIORITY, next, Optional.of("text " + i), Optional.empty())))
                    .toList();
            int won = 0;
            for (Future<Boolean> saved : threads.invokeAll(saves)) {
                won += saved.get() ? 1 : 0;
            }
            assertThat(won).isEqualTo(1);
        }
        threads.shutdown();
        assertThat(store.newest()).containsEntry(Book.PRIORITY, 20);
    }

    @Test
    void versions_any_canOnlyBeAddedToAndNeedAReason() {
        own.database()
                .jdbi()
                .useHandle(handle -> handle.execute("insert into rule_version (book, version, at, who, why)"
                        + " values ('advice', 1, now(), 'ada', 'because')"));
        for (String sql :
                new String[] {"update rule_version set text = 'y'", "delete from rule_version", "truncate rule_version"
                }) {
            assertThatThrownBy(() -> own.database().jdbi().useHandle(handle -> handle.execute(sql)))
                    .hasMessageContaining("append-only");
        }
        assertThatThrownBy(() -> own.database()
                        .jdbi()
                        .useHandle(handle -> handle.execute("insert into rule_version (book, version, at, who, why)"
                                + " values ('advice', 2, now(), 'ada', '  ')")))
                .hasMessageContaining("check constraint");
        assertThatThrownBy(() -> own.database()
                        .jdbi()
                        .useHandle(handle -> handle.execute("insert into rule_version (book, version, at, who, why)"
                                + " values ('recipes', 1, now(), 'ada', 'x')")))
                .hasMessageContaining("check constraint");
    }
}
