package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;

/** Receivers on bad days, and what they took, whatever they said of it. */
final class MoodyReceivers {
    /** A message that a receiver has. */
    record Taken(String receiver, UUID id, String kind) {}

    private final OutboxBench bench;
    private final Random random;
    private final List<Taken> taken = new ArrayList<>();
    private boolean isWell;
    private int asked;
    private int failed;
    private int slow;
    /** Taken, and yet it looks otherwise to whoever sent it. */
    private int takenUnseen;

    private int killed;

    MoodyReceivers(OutboxBench bench, Random random) {
        this.bench = bench;
        this.random = random;
    }

    Optional<Outcome> answer(String receiver, Message message) {
        asked++;
        Taken one = new Taken(receiver, message.id(), message.kind());
        switch (isWell ? -1 : random.nextInt(12)) {
            case 0, 1 -> {
                return failed("answered 500", Optional.empty());
            }
            case 2 -> {
                return failed("answered 429", Optional.of(Duration.ofMinutes(1 + random.nextInt(180))));
            }
            case 3 -> {
                slow++;
                bench.pass(Duration.ofSeconds(5 + random.nextInt(900)));
            }
            case 4 -> {
                bench.pass(Duration.ofSeconds(30));
                if (random.nextBoolean()) {
                    takenUnseen++;
                    taken.add(one);
                }
                return failed("no answer in 30 s", Optional.empty());
            }
            case 5 -> {
                killed++;
                if (random.nextBoolean()) {
                    takenUnseen++;
                    taken.add(one);
                }
                throw new OutboxBench.Killed();
            }
            case 6 -> {
                // Of the others each beginning must come to its end.
                if (receiver.equals("log")) {
                    failed++;
                    return Optional.of(new Outcome.Refused("answered 400"));
                }
            }
            default -> {}
        }
        taken.add(one);
        return Optional.of(new Outcome.Sent("fine"));
    }

    private Optional<Outcome> failed(String detail, Optional<Duration> notBefore) {
        failed++;
        return Optional.of(new Outcome.Again(detail, notBefore));
    }

    /** From now on they take everything at once. */
    void recover() {
        isWell = true;
    }

    /** In the order in which it came, repeats included. */
    List<Taken> taken() {
        return taken;
    }

    int takenUnseen() {
        return takenUnseen;
    }

    /** What came more than once. */
    int repeats() {
        Set<Taken> once = new HashSet<>(taken);
        return taken.size() - once.size();
    }

    @Override
    public String toString() {
        return asked + " attempts, " + failed + " failed, " + slow + " slow, " + killed + " kills while sending, "
                + takenUnseen + " taken unseen, " + repeats() + " repeats";
    }
}
