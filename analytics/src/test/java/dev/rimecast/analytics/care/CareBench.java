package dev.rimecast.analytics.care;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.CareIntervals;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** One machine of a bar, its care, and what is found of it. */
abstract class CareBench {
    static final long DAY = 86_400_000;
    static final long HOUR = 3_600_000;
    /** 1 May 2026. */
    static final long START = 1_777_593_600_000L;

    final List<Finding> findings = new ArrayList<>();
    RuleContext context = context(Machine.basic("ice-1", "bar", "gw"));
    CareWatch care = new CareWatch();

    RuleContext context(Machine machine) {
        RuleContext made = new RuleContext(
                machine,
                new PolicyShelf(Policy.standard()),
                new SiteWeather(),
                new FindingBook(Subject.machine("bar", "ice-1")));
        made.out(findings::add);
        return made;
    }

    static Machine machine(Cooling cooling, CareIntervals intervals, Optional<LocalDate> lampInstalled) {
        Machine m = Machine.basic("ice-1", "bar", "gw");
        return new Machine(
                m.id(),
                m.site(),
                m.gateway(),
                m.room(),
                m.modelGroup(),
                m.serial(),
                m.kind(),
                cooling,
                m.ratedKgPerDay(),
                m.binKg(),
                m.refrigerant(),
                m.freezeEndsBy(),
                m.harvestEndsBy(),
                m.fillEndsBy(),
                m.evaporatorProbeAt(),
                m.limits(),
                m.drainKind(),
                m.startDelaySeconds(),
                m.place(),
                intervals,
                Optional.empty(),
                lampInstalled,
                Optional.empty(),
                m.build());
    }

    void days(double from, double to) {
        for (long at = Math.round(from * DAY); at <= to * DAY; at += HOUR) {
            care.passed(START + at, context, CareSigns.NONE);
        }
    }

    static CareSigns signs(boolean isClean, boolean isCondenserDrifting, boolean isPlateDrifting) {
        return new CareSigns() {
            @Override
            public boolean isCondenserClean() {
                return isClean;
            }

            @Override
            public boolean isCondenserDrifting() {
                return isCondenserDrifting;
            }

            @Override
            public boolean isPlateDrifting() {
                return isPlateDrifting;
            }
        };
    }

    static RawCycle raw(long start, OptionalDouble litres) {
        OptionalDouble none = OptionalDouble.empty();
        return new RawCycle(
                start,
                start + 1_400_000,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                OptionalInt.empty(),
                none,
                none,
                litres,
                none,
                true,
                0,
                0,
                5);
    }

    /** Days on which a machine makes so many cycles of so much water. */
    void makes(int fromDay, int toDay, int cyclesADay, double litres, CareSigns signs) {
        for (long hour = fromDay * 24L; hour < toDay * 24L; hour++) {
            long at = START + hour * HOUR;
            for (long n = hour * cyclesADay / 24; n < (hour + 1) * cyclesADay / 24; n++) {
                care.cycle(raw(at, litres > 0 ? OptionalDouble.of(litres) : OptionalDouble.empty()), context);
            }
            care.passed(at + HOUR, context, signs);
        }
    }

    Finding last() {
        List<Finding> all = of(Condition.CLEANING_DUE);
        return all.get(all.size() - 1);
    }

    List<Finding> of(Condition condition) {
        return findings.stream().filter(f -> f.condition() == condition).toList();
    }

    void cycles(double day, int count) {
        for (int i = 0; i < count; i++) {
            long start = START + Math.round(day * DAY) + i * 1_440_000L;
            care.cycle(raw(start, OptionalDouble.empty()), context);
        }
    }

    void heard(double from, double to) {
        for (long at = Math.round(from * DAY); at <= to * DAY; at += 600_000) {
            care.heard(START + at);
        }
    }
}
