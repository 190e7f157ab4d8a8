package dev.rimecast.ingest.ack;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class AckOutletTest {
    private final List<PackNumber> sent = new ArrayList<>();
    private final AckOutlet outlet = new AckOutlet(sent::add);

    @Test
    void oneIsUnderWay_andOnlyTheNewestWaits() {
        outlet.tell(number(1));
        outlet.tell(number(2));
        outlet.tell(number(3));
        assertThat(sent).containsExactly(number(1));

        outlet.arrived();
        assertThat(sent).containsExactly(number(1), number(3));

        outlet.arrived();
        outlet.tell(number(4));
        assertThat(sent).containsExactly(number(1), number(3), number(4));
    }

    @Test
    void lastAcks_growWithinABoot_andFollowANewOne() {
        LastAcks last = new LastAcks();
        assertThat(last.of("gw-1")).isEmpty();
        last.note(new GatewayAck("gw-1", number(5), 0));
        last.note(new GatewayAck("gw-1", number(4), 0));
        assertThat(last.of("gw-1")).contains(number(5));
        last.note(new GatewayAck("gw-1", new PackNumber("b2", 1), 0));
        assertThat(last.of("gw-1")).contains(new PackNumber("b2", 1));
    }

    private static PackNumber number(long seq) {
        return new PackNumber("b1", seq);
    }
}
