package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Site;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SplittableRandom;

/** Draws one site: its kind, its machines, what cuts it off, and how much ice it takes. */
final class SiteBuilder {
    private static final double DAY_SECONDS = 86_400;

    private final OtherFleetPlan plan;
    private final String id;
    private final FaultRotation rotation;
    private final SplittableRandom random;
    private final Premises premises;
    private boolean offAtNight;
    private final List<EventRow> events = new ArrayList<>();

    SiteBuilder(OtherFleetPlan plan, int index, FaultRotation rotation, SplittableRandom random) {
        this.plan = plan;
        this.id = String.format("place-%03d", index + 1);
        this.rotation = rotation;
        this.random = random;
        this.premises = Premises.values()[random.nextInt(Premises.values().length)];
        this.offAtNight = premises == Premises.BAR && random.nextInt(4) == 0;
    }

    OtherSite build() {
        int machines = random.nextInt(4) == 0 ? 1 : 2 + random.nextInt(4);
        Weather weather = new Weather(
                plan.days(),
                plan.start().atZone(ZoneId.of("UTC")).getDayOfYear(),
                random.nextInt(2) == 0,
                random.split());
        SplittableRandom channelDraw = random.split();
        long channelSeed = channelDraw.nextLong();
        List<Station> stations = new ArrayList<>();
        double drawn = 0;
        for (int i = 0; i < machines; i++) {
            StationPlan station = station(i, machines == 1, new SplittableRandom(channelSeed));
            Sampler sampler = new Sampler(
                    station.register().id(),
                    station.channels(),
                    plan.start().toEpochMilli(),
                    plan.sampleSeconds(),
                    random.split());
            stations.add(new Station(station, sampler, random.split()));
            drawn += station.drawKgPerBusyHour() * busyHoursPerDay();
        }
        Room room = new Room(premises, weather.outdoorCelsius(0), random.split());
        return new OtherSite(
                site(drawn), premises, plan.start(), weather, room, outages(), offAtNight, stations, events);
    }

    private double busyHoursPerDay() {
        double sum = 0;
        for (int quarter = 0; quarter < 96; quarter++) {
            sum += premises.busy(quarter / 4.0, java.time.DayOfWeek.WEDNESDAY) / 4;
        }
        return sum;
    }

    private Site site(double kgPerDay) {
        return new Site(
                id,
                "Place " + id.substring(id.length() - 3),
                ZoneId.of("UTC"),
                Optional.of(premises.openTime()),
                Optional.of(premises.closeTime()),
                premises.closedDays,
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.of(Math.round(kgPerDay)),
                OptionalDouble.empty());
    }

    private StationPlan station(int index, boolean alone, SplittableRandom channelDraw) {
        String machine = "unit-" + id.substring(id.length() - 3) + "-" + (index + 1);
        Model model = Model.values()[random.nextInt(Model.values().length)];
        double rated = Math.round(20 * Math.exp(Math.log(7.5) * random.nextDouble()));
        Design design = Design.of(model, rated / 50, tolerance());
        Optional<Fault> dealt = rotation.deal(model.drainKind() == DrainKind.PUMP, alone);
        offAtNight |=
                dealt.filter(fault -> fault.kind() == FaultKind.START_DELAY).isPresent();
        CareBook care = new CareBook(machine, plan.start(), plan.days(), premises, dealt, random.split());
        events.addAll(care.events);
        Set<Channel> channels = plan.channels().draw(model.drainKind(), channelDraw);
        double used = 0.3 + 0.5 * random.nextDouble();
        return new StationPlan(
                register(machine, model, rated, channels.contains(Channel.PHASE)),
                design,
                quality(),
                channels,
                random.nextDouble() * 1.6 - 0.4,
                used * rated / busyHoursPerDay(),
                care.cleanings,
                care.washings,
                care.fault);
    }

    private Design.Tolerance tolerance() {
        return new Design.Tolerance(within(0.1), within(0.08), within(0.1), within(0.04));
    }

    private double within(double share) {
        double x = 0.5 * share * random.nextGaussian();
        return 1 + Math.max(-share, Math.min(share, x));
    }

    private Sensors.Quality quality() {
        double quantum = new double[] {0.1, 0.1, 0.25, 0.5, 1}[random.nextInt(5)];
        double outlet = random.nextInt(5) == 0 ? 0.05 + 0.12 * random.nextDouble() : 0;
        return new Sensors.Quality(
                quantum,
                0.5 * random.nextGaussian(),
                Math.max(-1, Math.min(1, 0.5 * random.nextGaussian())),
                Math.max(-2, Math.min(2, random.nextGaussian())),
                outlet);
    }

    private Machine register(String machine, Model model, double rated, boolean controllerIsRead) {
        boolean known = controllerIsRead || random.nextInt(5) < 2;
        boolean pumped = model.drainKind() == DrainKind.PUMP;
        Optional<Machine.EndsBy> harvest = switch (model.harvestEndsBy()) {
            case TEMPERATURE -> Optional.of(Machine.EndsBy.TEMPERATURE);
            case TIME -> Optional.of(Machine.EndsBy.TIME);
            case CURTAIN -> Optional.empty();
        };
        return new Machine(
                machine,
                id,
                "box-" + id.substring(id.length() - 3),
                Optional.of("room-" + id.substring(id.length() - 3)),
                Optional.of(model.group()),
                Optional.empty(),
                Machine.Kind.BATCH,
                Machine.Cooling.AIR,
                rated,
                Math.round(rated * (0.35 + 0.4 * random.nextDouble()) * 10) / 10.0,
                Optional.of(model.refrigerant().name()),
                Optional.of(model.freezeEndsBy()).filter(e -> known),
                harvest.filter(e -> known),
                Optional.of(model.fillEndsBy()).filter(e -> known),
                model.probeAt(),
                limits(pumped),
                model.drainKind(),
                300,
                Machine.PlaceLimits.USUAL,
                Machine.CareIntervals.OF_GROUP,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Machine.Build.NOT_SAID);
    }

    private static Machine.Limits limits(boolean pumped) {
        return new Machine.Limits(
                OptionalDouble.of(Settings.CONDENSING_LIMIT_CELSIUS),
                OptionalDouble.of(Settings.PULL_DOWN_LIMIT_SECONDS),
                pumped ? OptionalDouble.of(IceMachine.DRAIN_LIMIT_SECONDS) : OptionalDouble.empty(),
                pumped ? OptionalDouble.of(IceMachine.DRAIN_RUN_ON_SECONDS) : OptionalDouble.empty());
    }

    /** Power cuts, and times in which the gateway's link is gone and its store with it. */
    private List<OtherSite.Outage> outages() {
        List<OtherSite.Outage> outages = new ArrayList<>();
        double end = plan.days() * DAY_SECONDS;
        for (double at = gap(45); at < end; at += gap(45)) {
            outages.add(new OtherSite.Outage(at, at + 60 + 5400 * random.nextDouble(), true));
        }
        for (double at = gap(20); at < end; at += gap(20)) {
            double hours = Math.exp(-2.5 + 3.2 * random.nextDouble());
            outages.add(new OtherSite.Outage(at, at + 3600 * hours, false));
        }
        return outages;
    }

    private double gap(double meanDays) {
        return -Math.log(1 - random.nextDouble()) * meanDays * DAY_SECONDS;
    }
}
