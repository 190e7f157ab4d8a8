package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Draws a fleet from a seed. */
final class TwelfthFleetBuilder {
    /** What gateways send. */
    enum Scope {
        /** All channels, most machines without a weighing of ice. */
        FULL,
        /** From all channels down to two temperatures, machine by machine. */
        MIXED,
        /** Two temperatures, phases on some. */
        BARE
    }

    private static final LocalDate[] STARTS = {
        LocalDate.of(2025, 3, 20), LocalDate.of(2025, 5, 5), LocalDate.of(2025, 10, 10), LocalDate.of(2025, 7, 1)
    };

    private final Random random;
    private final int days;
    private final double period;
    private final Scope scope;
    private final double soundShare;
    private final LocalDate start;
    private final FaultDeck deck;
    private final List<FleetMachine> machines = new ArrayList<>();
    private double owed;

    private TwelfthFleetBuilder(long seed, int days, double period, Scope scope, double soundShare) {
        this.random = new Random(seed * 7919 + 17);
        this.days = days;
        this.period = period;
        this.scope = scope;
        this.soundShare = soundShare;
        this.start = STARTS[(int) (seed & 3)];
        this.deck = new FaultDeck(random, days, seed);
    }

    /** The remainder of the seed by four gives the season: 0 from spring, 1 from May, 2 from October, 3 from July. */
    static TwelfthFleet build(long seed, int sites, int days, double period, Scope scope, double soundShare) {
        TwelfthFleetBuilder builder = new TwelfthFleetBuilder(seed, days, period, scope, soundShare);
        List<Place> places = new ArrayList<>();
        List<String> ids = new ArrayList<>();
        List<Cause> ofSite = new ArrayList<>(FaultDeck.OF_SITE);
        for (int i = 0; i < sites; i++) {
            Place place = new Place(builder.random, days, builder.start.getDayOfYear());
            String id = String.format("place-%02d", i + 1);
            places.add(place);
            ids.add(id);
            // one site of a dozen has a fault of the whole room or link
            boolean shares = i % 12 == 3 && sites >= 6 && soundShare < 1;
            @Nullable Cause shared = shares ? ofSite.get((int) ((seed + i / 12) % ofSite.size())) : null;
            builder.site(id, place, shared);
        }
        return new TwelfthFleet(builder.machines, places, ids, builder.start, days);
    }

    private void site(String id, Place place, @Nullable Cause shared) {
        int count = 2 + random.nextInt(4);
        @Nullable Fault sharedFault = shared == null ? null : deck.deal(shared, place);
        int first = random.nextInt(Design.GROUPS.length);
        for (int k = 0; k < count; k++) {
            // sites mostly buy two of a kind
            Design design = Design.GROUPS[(first + k / 2 * (1 + random.nextInt(2))) % Design.GROUPS.length];
            Set<Channel> channels = channels();
            boolean edges = channels.contains(Channel.FREEZE_TIME);
            @Nullable Fault fault = sharedFault;
            if (shared != null && shared != Cause.GATEWAY_LINK_DOWN && design.cooling() != Cooling.AIR) {
                fault = null;
            }
            owed += 1 - soundShare;
            if (fault != null) {
                owed -= 1;
            } else if (shared == null && owed > 0.5 + random.nextGaussian() * 0.4 && soundShare < 1) {
                owed -= 1;
                fault = deck.deal(
                        deck.next(design, edges, channels.contains(Channel.BIN_FULL), place.switchedOffAtNight), place);
            }
            add(id, place, design, channels, edges, fault, k);
        }
    }

    private void add(
            String site,
            Place place,
            Design design,
            Set<Channel> channels,
            boolean edges,
            @Nullable Fault fault,
            int k) {
        String id = site.replace("place", "ice") + "-" + (char) ('a' + k);
        long millis = start.atStartOfDay(ZoneOffset.UTC).toInstant().toEpochMilli();
        double each = scope == Scope.MIXED && random.nextDouble() < 0.2 ? 2 * period : period;
        Speaker speaker = new Speaker(id, channels, each, edges, new Random(random.nextLong()));
        Upkeep upkeep = new Upkeep(random, place, days, fault);
        IceMachine machine = new IceMachine(design, new Random(random.nextLong()), 21);
        machines.add(new FleetMachine(
                register(id, site, design), machine, place, fault, speaker, upkeep, millis, random.nextLong()));
    }

    private Set<Channel> channels() {
        double roll = scope == Scope.FULL ? 0 : scope == Scope.BARE ? 1 : random.nextDouble();
        Set<Channel> set = EnumSet.of(Channel.EVAPORATOR_TEMPERATURE, Channel.CONDENSER_TEMPERATURE);
        if (roll < 0.35) {
            set = EnumSet.complementOf(EnumSet.of(Channel.CONTROLLER_STATUS));
            if (random.nextDouble() < 0.7) {
                set.remove(Channel.ICE_MASS);
            }
        } else if (roll < 0.6) {
            set.add(Channel.AMBIENT_TEMPERATURE);
            set.add(Channel.SUPPLY_CURRENT);
        } else if (roll < 0.85) {
            set.add(Channel.PHASE);
            if (random.nextDouble() < 0.5) {
                set.add(Channel.AMBIENT_TEMPERATURE);
                set.add(Channel.WATER_TEMPERATURE);
            }
        } else if (scope == Scope.BARE && random.nextDouble() < 0.4) {
            set.add(Channel.PHASE);
        }
        return set;
    }

    private Machine register(String id, String site, Design design) {
        boolean known = scope == Scope.FULL || random.nextDouble() < 0.6;
        return new Machine(
                id,
                site,
                "gw-" + site,
                Optional.empty(),
                Optional.of(design.name()),
                Optional.empty(),
                Machine.Kind.BATCH,
                design.cooling(),
                design.ratedKgPerDay(),
                design.binKg(),
                Optional.of("R290"),
                known ? Optional.of(design.freezeEnds()) : Optional.empty(),
                known ? Optional.of(design.harvestEnds()) : Optional.empty(),
                known ? Optional.of(design.fillEnds()) : Optional.empty(),
                design.probeAt(),
                new Machine.Limits(
                        OptionalDouble.of(IceMachine.CONDENSING_LIMIT),
                        OptionalDouble.empty(),
                        design.drain() == Machine.DrainKind.PUMP
                                ? OptionalDouble.of(design.drainLimitSeconds())
                                : OptionalDouble.empty(),
                        OptionalDouble.of(design.drain() == Machine.DrainKind.PUMP ? 2 : 0)),
                design.drain(),
                300,
                Machine.PlaceLimits.USUAL,
                Machine.CareIntervals.OF_GROUP,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Machine.Build.NOT_SAID);
    }
}
