package dev.rimecast.analytics.policy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

class PolicyShelfTest {
    private static final Policy MINE =
            Policy.parse("version: mine # of the cellar\nall:\n  limits: {condensing_celsius: 62}\n");

    private static PolicyShelf shelf() {
        PolicyShelf shelf = new PolicyShelf(Policy.standard());
        shelf.activate(MINE);
        return shelf;
    }

    @Test
    void saved_isRestoredToTheSameTexts_inAThirdOfTheirSize() {
        byte[] bytes = shelf().save(new StateWriter());

        PolicyShelf restored = PolicyShelf.restore(bytes);
        assertThat(restored.current().yaml()).isEqualTo(MINE.yaml());
        assertThat(restored.named("standard-1").yaml())
                .isEqualTo(Policy.standard().yaml());
        assertThat(restored.save(new StateWriter())).as("as saved").isEqualTo(bytes);
        assertThat(bytes.length).isLessThan(Policy.standard().yaml().length() / 3);
    }

    @Test
    void savedByTheFirstLayout_isRead() {
        StateWriter first = new StateWriter();
        first.u8('P').u8(1).whole(2).text(MINE.yaml()).text(Policy.standard().yaml());

        PolicyShelf restored = PolicyShelf.restore(first.toBytes());
        assertThat(restored.current().version()).isEqualTo("mine");
        assertThat(restored.named("standard-1")).isSameAs(Policy.standard());
    }

    @Test
    void tornOrSpoiled_isRefused() {
        byte[] bytes = shelf().save(new StateWriter());
        for (int size = 0; size < bytes.length; size += 97) {
            byte[] torn = Arrays.copyOf(bytes, size);
            assertThatThrownBy(() -> PolicyShelf.restore(torn))
                    .as("the first " + size + " bytes")
                    .isInstanceOf(IllegalStateException.class);
        }
        byte[] spoiled = bytes.clone();
        spoiled[bytes.length - 1] ^= 1;
        assertThatThrownBy(() -> PolicyShelf.restore(spoiled))
                .as("its sum is another")
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("zlib");
    }

    @Test
    void sameTextTwice_isOnePolicy() {
        assertThat(Policy.parse(MINE.yaml())).isSameAs(MINE);
        for (int i = 0; i < 20; i++) {
            Policy.parse("version: other-" + i + "\n");
        }
        assertThat(Policy.parse(MINE.yaml()).version())
                .as("forgotten and read again")
                .isEqualTo("mine");
    }
}
