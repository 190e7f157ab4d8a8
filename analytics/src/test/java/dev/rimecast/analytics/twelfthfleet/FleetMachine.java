package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** A machine in its place: what it lives through, what it sends, and what people do about it. */
final class FleetMachine {
    private static final double DAY = 86_400;

    final Machine registered;
    final IceMachine machine;
    final Place place;
    /** Null for a sound machine. */
    final @Nullable Fault fault;

    final List<EventRow> events = new ArrayList<>();
    private final Speaker speaker;
    private final Upkeep upkeep;
    private final Random random;
    private final long startMillis;
    private final boolean silentWhenOff;
    private double t;
    private double nextSample;
    private double nextLook;
    private double resetAt = Double.NaN;
    private double visitAt = Double.NaN;
    private double mendedAt = 1e15;
    private int resets;
    private double emptySince = -1;
    private boolean called;
    private double barrenAt = Double.NaN;
    private Ills ills = new Ills();

    FleetMachine(
            Machine registered,
            IceMachine machine,
            Place place,
            @Nullable Fault fault,
            Speaker speaker,
            Upkeep upkeep,
            long startMillis,
            long seed) {
        this.registered = registered;
        this.machine = machine;
        this.place = place;
        this.fault = fault;
        this.speaker = speaker;
        this.upkeep = upkeep;
        this.startMillis = startMillis;
        this.random = new Random(seed);
        this.silentWhenOff = random.nextDouble() < 0.5;
        this.nextSample = 1 + random.nextInt((int) speaker.period) + 0.037;
        for (Upkeep.Done done : upkeep.done()) {
            if (done.written()) {
                say(done.at(), done.kind(), done.detail(), "staff");
            }
        }
    }

    private void say(double at, EventKind kind, String detail, String by) {
        events.add(new EventRow(
                Instant.ofEpochMilli(startMillis + (long) (at * 1000)),
                Optional.of(registered.id()),
                Optional.empty(),
                kind,
                detail,
                by,
                ""));
    }

    /** Lives on and gives its rows. */
    List<Row> advance(double until) {
        List<Row> rows = new ArrayList<>();
        while (t < until) {
            int i = Math.min(place.room.length - 1, (int) (t / Place.STEP));
            if (t >= nextLook) {
                nextLook = t + 60;
                ills = look();
                people(i);
                noteStop();
            }
            double room = Double.isNaN(ills.room) ? blend(place.room, i) : roomByFault(i);
            double outdoor = blend(place.outdoor, i);
            double mains = blend(place.mains, i);
            double asked = place.demand[i] * machine.design.ratedKgPerDay() / DAY;
            t += machine.step(t, place.powered[i], room, outdoor, mains, place.pressure[i], asked, ills);
            boolean gap = place.linkBack[i] > 0;
            boolean lost = ills.linkDown
                    || gap && (!place.powered[i] || !place.gatewayHasStore)
                    || ills.switchedOff && silentWhenOff;
            long late = gap ? startMillis + (long) place.linkBack[i] * Place.STEP * 1000L : 0;
            if (lost) {
                machine.told.clear();
            } else if (!machine.told.isEmpty()) {
                speaker.events(machine.told, startMillis, late, rows);
            }
            while (nextSample <= t) {
                if (!lost) {
                    long millis = startMillis + Math.round(nextSample * 1000);
                    double ambient = machine.design.cooling() == Cooling.REMOTE ? outdoor : room;
                    rows.add(speaker.sample(millis, Math.max(millis, late), machine, ambient, mains, ills));
                }
                nextSample += speaker.period;
            }
        }
        return rows;
    }

    private double roomByFault(int i) {
        double own = blend(place.room, i);
        return ills.room > 25
                ? Math.max(own, ills.room + 0.2 * (own - 22))
                : Math.min(own, ills.room + 0.2 * (own - 22));
    }

    private double blend(float[] values, int i) {
        double share = t / Place.STEP - i;
        return i + 1 < values.length ? values[i] + share * (values[i + 1] - values[i]) : values[i];
    }

    private Ills look() {
        Ills now = new Ills();
        upkeep.apply(now, t);
        if (fault != null && t < mendedAt) {
            fault.apply(now, t);
        }
        return now;
    }

    /** No ice for twelve hours though it is powered and called for counts as stopped, too. */
    private void noteStop() {
        boolean due = fault != null && t > fault.onset() && t - Math.max(machine.madeAt, fault.onset()) > 43_200;
        if (due && Double.isNaN(barrenAt) && t < mendedAt) {
            barrenAt = t;
        }
    }

    /** Staff resets what has locked out, an engineer comes some days later; a guest house without ice rings up. */
    private void people(int i) {
        if (machine.locked && Double.isNaN(visitAt)) {
            visitAt = random.nextDouble() < 0.6 ? t + DAY * (1 + 4 * random.nextDouble()) : 1e15;
        }
        if (machine.locked && Double.isNaN(resetAt) && resets < 3) {
            resetAt = t + 3600 * (3 + 8 * random.nextDouble());
        }
        if (t >= resetAt && place.isOpen(i)) {
            machine.reset(t);
            resets++;
            resetAt = Double.NaN;
        }
        if (t >= visitAt && place.isOpen(i) && mendedAt > 1e14 && fault != null) {
            mendedAt = t;
            say(t, EventKind.VISIT, fault.cause().code(), "engineer");
            if (fault.cause().origin() == Cause.Origin.PART) {
                say(t + 60, EventKind.PART_REPLACED, fault.cause().code(), "engineer");
            }
            machine.reset(t);
            visitAt = 1e15;
        }
        boolean empty = place.isOpen(i) && machine.store < 0.02 * machine.design.binKg();
        emptySince = empty ? emptySince < 0 ? t : emptySince : -1;
        if (empty && t - emptySince > 4 * 3600 && !called && fault != null && t > fault.onset()) {
            called = true;
            if (random.nextDouble() < 0.6) {
                say(t, EventKind.CALL, "no-ice", "staff");
            }
        }
    }

    Set<Channel> channels() {
        return speaker.channels;
    }

    /** Moment at which the controller gave up because of the fault, s. */
    Optional<Double> stopped() {
        boolean of = fault != null && machine.lockedAt >= fault.onset();
        double at = of ? machine.lockedAt : Double.NaN;
        at = Double.isNaN(at) || barrenAt < at ? barrenAt : at;
        return Double.isNaN(at) ? Optional.empty() : Optional.of(at);
    }
}
