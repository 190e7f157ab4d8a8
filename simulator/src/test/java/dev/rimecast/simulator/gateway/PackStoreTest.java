package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

class PackStoreTest {
    private final PackStore store = new PackStore();

    private static List<Long> numbers(List<PackStore.Numbered> packs) {
        return packs.stream().map(PackStore.Numbered::seq).toList();
    }

    @Test
    void toSend_moreThanTheWindow_waitsForReceipts() {
        for (int i = 0; i < 4; i++) {
            store.add(new byte[] {(byte) i});
        }

        assertThat(numbers(store.toSend(2))).containsExactly(1L, 2L);
        assertThat(store.toSend(2)).isEmpty();
        store.acknowledged(1);
        assertThat(numbers(store.toSend(2))).containsExactly(3L);
    }

    @Test
    void sendAgain_afterABreak_givesWhatHasNoReceiptInOrder() {
        for (int i = 0; i < 4; i++) {
            store.add(new byte[] {(byte) i});
        }
        store.toSend(3);
        store.acknowledged(2);

        store.sendAgain();

        assertThat(numbers(store.toSend(10))).containsExactly(1L, 3L, 4L);
    }

    @Test
    void isCovered_receiptsOutOfOrder_onlyWhenAllBeforeAreThere() {
        store.add(new byte[1]);
        store.add(new byte[1]);

        store.acknowledged(2);
        assertThat(store.isCovered(2)).isFalse();
        store.acknowledged(1);
        assertThat(store.isCovered(2)).isTrue();
        assertThat(store.size()).isZero();
    }
}
