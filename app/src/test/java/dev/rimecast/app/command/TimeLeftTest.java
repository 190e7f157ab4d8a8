package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class TimeLeftTest {
    @Test
    void whatAnEarlierRunHasDone_saysNothingOfTheTimeLeft() {
        AtomicLong nanos = new AtomicLong();
        StringWriter out = new StringWriter();
        TimeLeft left = new TimeLeft(new PrintWriter(out, true), nanos::get);
        left.kept(400);

        nanos.set(10_000_000_000L);
        left.at(400, 1_000);
        assertThat(out.toString()).isEmpty();
        nanos.set(20_000_000_000L);
        left.at(500, 1_000);

        assertThat(out.toString()).isEqualToNormalizingNewlines("  50 %, 100 s left\n");
    }
}
