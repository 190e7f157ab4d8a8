package dev.rimecast.alerts.rules;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What every store of rules does. */
public abstract class RuleStoreContract {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");

    protected abstract RuleStore store();

    @Test
    void append_versions_areKeptAsTheyAreTheNewestFirst() {
        RuleVersion first = version(Book.CASES, 1, Optional.of("a: 1\n# ü\n"), Optional.empty());
        RuleVersion second = version(Book.CASES, 2, Optional.empty(), Optional.of(0));

        assertThat(store().append(first)).isTrue();
        assertThat(store().append(second)).isTrue();

        assertThat(store().versions(Book.CASES)).containsExactly(second, first);
        assertThat(store().version(Book.CASES, 1)).contains(first);
        assertThat(store().version(Book.CASES, 3)).isEmpty();
        assertThat(store().newest()).containsEntry(Book.CASES, 2).doesNotContainKey(Book.ADVICE);
    }

    @Test
    void append_versionThatIsTakenOrNotTheNext_isRefused() {
        assertThat(store().append(version(Book.LIFE, 2, Optional.of("a"), Optional.empty())))
                .isFalse();
        assertThat(store().append(version(Book.LIFE, 1, Optional.of("a"), Optional.empty())))
                .isTrue();
        assertThat(store().append(version(Book.LIFE, 1, Optional.of("b"), Optional.empty())))
                .isFalse();

        assertThat(store().versions(Book.LIFE))
                .singleElement()
                .satisfies(version -> assertThat(version.text()).contains("a"));
    }

    protected static RuleVersion version(Book book, int version, Optional<String> text, Optional<Integer> restores) {
        return new RuleVersion(book, version, text, NOON, "ada", "why " + version, restores);
    }
}
