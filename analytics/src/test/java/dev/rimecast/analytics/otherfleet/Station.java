package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/** One machine in its place: what it meets, how it wears, who cleans it, and what its gateway says of it. */
final class Station {
    private static final double LOCKED_RESET_CHANCE_PER_MINUTE = 1 / 150.0;
    private static final int MOST_RESETS_A_DAY = 2;
    private static final int PATIENCE_MINUTES = 240;
    private static final double USUAL_FOULING_A_DAY = 0.0012;
    private static final double USUAL_SCALE_A_DAY = 0.0012;

    final StationPlan plan;
    final Sampler sampler;
    private final IceMachine machine;
    private final Surroundings around = new Surroundings();
    private final Wear wear = new Wear();
    private final Afflicted afflicted;
    private final SplittableRandom random;
    private final List<Double> cleanings;
    private final List<Double> washings;
    private double cleanedAt;
    private double washedAt;
    private double voltage = 1;
    private double now;
    private double switchedOffUntil;
    private int resetsToday;
    private double lockedMinutes;
    private boolean called;
    private double lidMinutes;

    Station(StationPlan plan, Sampler sampler, SplittableRandom random) {
        this.plan = plan;
        this.sampler = sampler;
        this.random = random;
        Settings settings = Commissioning.of(plan.design(), plan.quality());
        double binKg = plan.register().binKg();
        machine = new IceMachine(plan.design(), wear, plan.quality(), settings, binKg, around, random.split(), sampler);
        afflicted = new Afflicted(wear, machine);
        cleanings = new ArrayList<>(plan.cleaningsSeconds());
        washings = new ArrayList<>(plan.washingsSeconds());
        cleanedAt = -86_400 * (double) random.nextInt(40);
        washedAt = -86_400 * (double) random.nextInt(20);
    }

    Machine register() {
        return plan.register();
    }

    /** A minute in the life of a machine. */
    void minute(double roomCelsius, double mainsCelsius, double busy, boolean open, boolean power, boolean newDay) {
        resetsToday = newDay ? 0 : resetsToday;
        care();
        wear.reset();
        wear.airFlow = 1 - USUAL_FOULING_A_DAY * (now - washedAt) / 86_400;
        wear.scale = USUAL_SCALE_A_DAY * (now - cleanedAt) / 86_400;
        plan.fault().ifPresent(fault -> fault.kind().work(afflicted, fault.severity(), fault.developed(now)));
        around.roomCelsius = Math.max(1.5, roomCelsius + plan.placeKelvin() + afflicted.roomKelvin);
        around.mainsCelsius = mainsCelsius;
        voltage += 0.01 * (1 - voltage) + 0.0012 * random.nextGaussian();
        around.voltage = voltage;
        around.drawKgPerHour = plan.drawKgPerBusyHour() * busy * (0.6 + 0.8 * random.nextDouble());
        if (open && random.nextInt(900) == 0) {
            lidMinutes = 10 + random.nextInt(60);
        }
        lidMinutes = Math.max(0, lidMinutes - 1);
        reset(open);
        around.power = power && !afflicted.switchedOff && now >= switchedOffUntil;
        if (afflicted.gatewayDown) {
            sampler.silence(now + 3600);
        }
        machine.minute(now, around, lidMinutes > 0 ? 3 : 1);
        double end = now + 60;
        while (now < end) {
            double step = Math.min(machine.stepSeconds(), end - now);
            now += step;
            machine.step(now, step, around);
            sampler.sample(now, machine);
        }
    }

    private void care() {
        if (!cleanings.isEmpty() && now >= cleanings.get(0)) {
            cleanings.remove(0);
            cleanedAt = now;
            machine.controller.clean(1500 + random.nextInt(1800));
        }
        if (!washings.isEmpty() && now >= washings.get(0)) {
            washings.remove(0);
            washedAt = now;
        }
    }

    /** A place that has waited for ice calls, once, some hours after its machine has locked itself. */
    Optional<EventRow> call(Instant start, boolean open) {
        lockedMinutes = machine.controller.isLocked() ? lockedMinutes + 1 : lockedMinutes;
        if (called || !open || lockedMinutes < PATIENCE_MINUTES || random.nextInt(90) > 0) {
            return Optional.empty();
        }
        called = true;
        return Optional.of(new EventRow(
                at(start, now), Optional.of(plan.register().id()), Optional.empty(), EventKind.CALL, "no-ice", "", ""));
    }

    /** Staff switch a machine that has locked itself off and on, a few times a day, and hope. */
    private void reset(boolean open) {
        if (open
                && machine.controller.isLocked()
                && resetsToday < MOST_RESETS_A_DAY
                && random.nextDouble() < LOCKED_RESET_CHANCE_PER_MINUTE) {
            resetsToday++;
            switchedOffUntil = now + 60;
        }
    }

    IceMachine machine() {
        return machine;
    }

    double roomCelsius() {
        return around.roomCelsius;
    }

    TruthRow truth(Instant start) {
        return plan.fault()
                .map(fault -> truth(start, fault))
                .orElseGet(() -> new TruthRow(
                        plan.register().id(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty()));
    }

    private TruthRow truth(Instant start, Fault fault) {
        double stop = machine.controller.protection().firstStop();
        Optional<Instant> stopped = stop >= fault.onsetSeconds() ? Optional.of(at(start, stop)) : Optional.empty();
        Instant latest = at(start, fault.latestSeconds());
        Instant deadline = fault.isStep()
                ? latest
                : stopped.filter(s -> s.isBefore(latest)).orElse(latest);
        return new TruthRow(
                plan.register().id(),
                Optional.of(fault.kind().cause()),
                Optional.of(at(start, fault.onsetSeconds())),
                stopped,
                Optional.of(deadline));
    }

    private static Instant at(Instant start, double seconds) {
        return start.plusMillis((long) (1000 * seconds));
    }
}
