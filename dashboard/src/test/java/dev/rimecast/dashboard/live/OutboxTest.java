package dev.rimecast.dashboard.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;

class OutboxTest {
    private final Outbox outbox = new Outbox(3);

    @Test
    void take_severalAboutOneMachine_sendsTheNewestOnly() throws InterruptedException {
        outbox.offer(event(1, "ice-1"));
        outbox.offer(event(2, "ice-2"));
        outbox.offer(event(3, "ice-1"));

        assertThat(numbers(take())).containsExactly(2L, 3L);
    }

    @Test
    void take_moreMachinesThanItHolds_asksForReset() throws InterruptedException {
        for (int i = 1; i <= 4; i++) {
            outbox.offer(event(i, "ice-" + i));
        }
        outbox.offer(event(5, "ice-5"));

        assertThat(take()).isEqualTo(new Outbox.Next.Reset(5));
    }

    @Test
    void take_afterReset_goesOn() throws InterruptedException {
        outbox.requireReset(7);
        take();
        outbox.offer(event(8, "ice-1"));

        assertThat(numbers(take())).containsExactly(8L);
    }

    @Test
    void take_nothingHappens_isQuiet() throws InterruptedException {
        assertThat(take()).isInstanceOf(Outbox.Next.Quiet.class);
    }

    @Test
    void take_closed_ends() throws InterruptedException {
        outbox.offer(event(1, "ice-1"));
        outbox.close();

        assertThat(take()).isInstanceOf(Outbox.Next.End.class);
    }

    private Outbox.Next take() throws InterruptedException {
        return outbox.take(Duration.ZERO, Duration.ofMillis(1));
    }

    private static List<Long> numbers(Outbox.Next next) {
        assertThat(next).isInstanceOf(Outbox.Next.Send.class);
        return ((Outbox.Next.Send) next)
                .events().stream().map(LiveEvent::number).toList();
    }

    private static LiveEvent event(long number, String machine) {
        return new LiveEvent(number, "reading", "site-1", machine, machine, "{}");
    }
}
