package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.ack.PackGap;
import dev.rimecast.telemetry.log.PackNumber;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class PackLedgersTest {
    private final PackLedgers ledgers = new PackLedgers("gw-1");
    private final List<PackGap> gaps = new ArrayList<>();

    @Test
    void acks_tellHowFarEachBootIsStored_once() {
        take("b1", 1);
        take("b1", 2);
        take("b1", 4);
        take("b2", 2);

        assertThat(told(ledgers)).containsExactly(ack("b1", 2, 0));
        assertThat(told(ledgers)).isEmpty();
    }

    @Test
    void repeat_isToldAgain_sinceItsSenderHasNotHeard() {
        take("b1", 1);
        told(ledgers);
        assertThat(take("b1", 1)).isFalse();
        assertThat(told(ledgers)).containsExactly(ack("b1", 1, 0));
    }

    @Test
    void packOfTheBootBefore_isKnownAsARepeat_andDisturbsNothing() {
        take("b1", 1);
        take("b2", 1);
        assertThat(take("b1", 1)).isFalse();
        assertThat(take("b2", 1)).isFalse();
        assertThat(take("b2", 2)).isTrue();
        assertThat(told(ledgers)).containsExactlyInAnyOrder(ack("b1", 1, 0), ack("b2", 2, 0));
    }

    @Test
    void boots_moreThanAreKept_forgetTheOneHeardLongestAgo() {
        for (int boot = 1; boot <= PackLedgers.BOOTS; boot++) {
            take("b" + boot, 1);
        }
        take("b1", 2);
        take("b9", 1);
        assertThat(take("b1", 2)).as("heard lately").isFalse();
        assertThat(take("b2", 1)).as("forgotten").isTrue();
    }

    @Test
    void gap_isReportedWhenGivenUp_andTold() {
        take("b1", 1);
        take("b1", 3);
        told(ledgers);
        for (int minute = 0; minute < PackLedger.GAP_MINUTES; minute++) {
            ledgers.minute(true, gaps::add);
        }
        assertThat(gaps).containsExactly(new PackGap("gw-1", "b1", 2, 2, 1));
        assertThat(told(ledgers)).containsExactly(ack("b1", 3, 1));
    }

    @Test
    void restored_tellsAllAgain_andGoesOn() {
        take("b1", 1);
        take("b2", 1);
        take("b2", 3);
        told(ledgers);
        StateWriter out = new StateWriter();
        ledgers.save(out);

        PackLedgers restored = PackLedgers.restore("gw-1", new StateReader(out.toBytes()), 4);

        assertThat(told(restored)).containsExactly(ack("b1", 1, 0), ack("b2", 1, 0));
        assertThat(restored.isNew(new PackNumber("b2", 3), gaps::add)).isFalse();
        assertThat(restored.isNew(new PackNumber("b2", 2), gaps::add)).isTrue();
        assertThat(told(restored)).containsExactly(ack("b2", 3, 0));
    }

    @Test
    void stateOfVersion3_hasOneBoot_orNone() {
        // As version 3 wrote it: boot, contiguous, words of the bitmap.
        StateWriter old = new StateWriter().text("b1").whole(7).whole(1).whole(0b10);
        PackLedgers restored = PackLedgers.restore("gw-1", new StateReader(old.toBytes()), 3);
        assertThat(restored.isNew(new PackNumber("b1", 9), gaps::add)).isFalse();
        assertThat(restored.isNew(new PackNumber("b1", 8), gaps::add)).isTrue();
        assertThat(told(restored)).containsExactly(ack("b1", 9, 0));

        StateWriter none = new StateWriter().text("").whole(0).whole(0);
        assertThat(told(PackLedgers.restore("gw-1", new StateReader(none.toBytes()), 3)))
                .isEmpty();
    }

    private boolean take(String boot, long seq) {
        return ledgers.isNew(new PackNumber(boot, seq), gaps::add);
    }

    private static List<GatewayAck> told(PackLedgers ledgers) {
        List<GatewayAck> acks = new ArrayList<>();
        ledgers.tell(acks::add);
        return acks;
    }

    private static GatewayAck ack(String boot, long seq, long missing) {
        return new GatewayAck("gw-1", new PackNumber(boot, seq), missing);
    }
}
