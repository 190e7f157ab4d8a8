package dev.rimecast.analytics.making;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** A state of layout 17 ends where the plate and the current begin. */
class IceWatchLayoutTest {
    private static final byte LAYOUT_BEFORE = 17;
    /** Of a plate and a current of which nothing was seen: two times and one. */
    private static final int BYTES_SINCE = 3;

    private static byte[] saved(IceWatch watch) {
        StateWriter out = new StateWriter();
        StateVersion.MACHINE.write(out);
        watch.save(out);
        return out.toBytes();
    }

    @Test
    void stateOfTheLayoutBefore_goesOnWithNothingSeen() {
        byte[] now = saved(new IceWatch());
        byte[] before = Arrays.copyOf(now, now.length - BYTES_SINCE);
        before[1] = LAYOUT_BEFORE;

        StateReader in = new StateReader(before);
        assertThat(StateVersion.MACHINE.require(in)).isEqualTo(LAYOUT_BEFORE);
        IceWatch restored = IceWatch.restore(in);

        assertThat(saved(restored)).isEqualTo(now);
        assertThat(restored.isCompressorSilent()).isFalse();
    }
}
