package dev.rimecast.ingest.intake;

import static dev.rimecast.ingest.intake.LineDecoder.line;
import static dev.rimecast.telemetry.machine.Channel.EVAPORATOR_TEMPERATURE;
import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;

class IntakeCountersTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Register REGISTER =
            new Register(List.of(Machine.basic("ice-1", "harbour", "gw-1")), List.of());

    private final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    private final List<Consumer<Boolean>> open = new ArrayList<>();
    private final CountedStore store = new CountedStore(
            new Store() {
                @Override
                public void store(Decision decision, Consumer<Boolean> done) {
                    open.add(done);
                }

                @Override
                public boolean isFull() {
                    return false;
                }

                @Override
                public void onRoom(Runnable listener) {}
            },
            new IntakeCounters(meters));

    @Test
    void counters_withNothingUnderWay_balance() {
        take(Optional.empty(), line("ice-1", EVAPORATOR_TEMPERATURE, NOW, 1), "nonsense");
        take(Optional.empty(), line("ice-9", EVAPORATOR_TEMPERATURE, NOW, 1));
        take(Optional.of("seq without boot"), "!poison");

        assertThat(count("received")).isEqualTo(4);
        assertThat(count("stored") + count("unclaimed") + rejected()).isZero();

        open.get(0).accept(true);
        open.get(1).accept(true);
        open.get(2).accept(false);

        assertThat(count("stored")).isEqualTo(1);
        assertThat(count("unclaimed")).isEqualTo(1);
        assertThat(rejected()).isEqualTo(1);
        assertThat(count("unsure")).isEqualTo(1);
        assertThat(meters.get("rimecast.ingest.pack.numbers.bad").counter().count())
                .isEqualTo(1);
        assertThat(count("received")).isEqualTo(count("stored") + count("unclaimed") + rejected() + count("unsure"));
    }

    private void take(Optional<String> badNumber, String... lines) {
        byte[] payload = String.join("\n", lines).getBytes(StandardCharsets.UTF_8);
        store.store(
                new Intake(new LineDecoder())
                        .pack(
                                new Message(
                                        "fleet/gw-1/senml",
                                        "gw-1",
                                        PayloadFormat.JSON,
                                        payload,
                                        Optional.empty(),
                                        badNumber,
                                        NOW),
                                REGISTER),
                isStored -> {});
    }

    private double count(String what) {
        return meters.get("rimecast.ingest.records." + what).counter().count();
    }

    private double rejected() {
        return meters.get("rimecast.ingest.records.rejected").counters().stream()
                .mapToDouble(Counter::count)
                .sum();
    }
}
