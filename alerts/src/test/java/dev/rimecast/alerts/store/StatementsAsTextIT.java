package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.RuleVersion;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** Text that would be a statement if it were put into one stays text (OWASP ASVS 5.0, 1.2.4). */
@TestInstance(Lifecycle.PER_CLASS)
class StatementsAsTextIT {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private static final List<String> HOSTILE = List.of(
            "'); drop table rule_version; --",
            "' or '1'='1",
            "\\'; select pg_sleep(9); --",
            "?; :book; {0}; %s; $1",
            "$$; drop table rule_version; $$",
            "\"; delete from account; /*");

    @AutoClose
    private OwnDatabase own;

    @BeforeAll
    void start() {
        own = new OwnDatabase();
    }

    @Test
    void ruleVersions_keepItAsItIs_andEveryTableIsThere() {
        StoredRules rules = new StoredRules(own.database());
        int before = tables();
        int version = 0;
        for (String text : HOSTILE) {
            RuleVersion hostile =
                    new RuleVersion(Book.CASES, ++version, Optional.of(text), NOON, text, text, Optional.empty());
            assertThat(rules.append(hostile)).isTrue();
            assertThat(rules.version(Book.CASES, version)).contains(hostile);
        }
        assertThat(rules.versions(Book.CASES)).hasSize(HOSTILE.size());
        assertThat(tables()).isEqualTo(before).isGreaterThan(20);
    }

    private int tables() {
        return own.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select count(*) from information_schema.tables where table_schema = 'public'")
                        .mapTo(Integer.class)
                        .one());
    }
}
