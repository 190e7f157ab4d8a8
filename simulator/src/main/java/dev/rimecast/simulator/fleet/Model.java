package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.physics.Control;
import dev.rimecast.simulator.physics.FreezeEnd;
import dev.rimecast.simulator.physics.HarvestEnd;
import dev.rimecast.simulator.physics.Refrigerant;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Build;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.Limits;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/** Invented models: one of each kind of control and waste. The name is the model group of the register. */
public enum Model {
    /** Small, ends by temperature and timer, waste by gravity without probes. */
    CUBE_25(25, Refrigerant.R600A, EndsBy.TEMPERATURE, EndsBy.TEMPERATURE, EndsBy.TIME, DrainKind.GRAVITY, 0),
    /** The usual one: temperature and timer, drain pump. */
    CUBE_50(50, Refrigerant.R290, EndsBy.TEMPERATURE, EndsBy.TEMPERATURE, EndsBy.TIME, DrainKind.PUMP, 6),
    /** Ends its freeze by the water used, pump with run-on. */
    CUBE_80(80, Refrigerant.R290, EndsBy.LEVEL, EndsBy.TEMPERATURE, EndsBy.LEVEL, DrainKind.PUMP, 6),
    /** Ends its freeze by the thickness of the ice, waste by gravity past level probes. */
    SLAB_120(120, Refrigerant.R404A, EndsBy.THICKNESS, EndsBy.TEMPERATURE, EndsBy.LEVEL, DrainKind.GRAVITY, 6),
    /** All by the clock. */
    TIMED_40(40, Refrigerant.R134A, EndsBy.TIME, EndsBy.TIME, EndsBy.TIME, DrainKind.PUMP, 6);

    private static final double RUN_ON_SECONDS = 4;
    /** A clock must be set for the coldest room: there the ice is thickest and the hot gas weakest. */
    private static final double TIMED_FREEZE_SECONDS = 1260;

    private static final double TIMED_HARVEST_SECONDS = 390;
    private static final double THICKNESS_MILLIMETRES = 9.8;

    private final double kgPerDay;
    private final Refrigerant refrigerant;
    private final EndsBy freeze;
    private final EndsBy harvest;
    private final EndsBy fill;
    private final DrainKind drain;
    private final double drainLimitSeconds;

    Model(
            double kgPerDay,
            Refrigerant refrigerant,
            EndsBy freeze,
            EndsBy harvest,
            EndsBy fill,
            DrainKind drain,
            double drainLimitSeconds) {
        this.kgPerDay = kgPerDay;
        this.refrigerant = refrigerant;
        this.freeze = freeze;
        this.harvest = harvest;
        this.fill = fill;
        this.drain = drain;
        this.drainLimitSeconds = drainLimitSeconds;
    }

    /** The name of the register: lower case with a dash. */
    public String group() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** A machine of this model, used to {@code load} of its rating on a weekday. */
    public MachinePlan machine(String id, String site, String gateway, ChannelSet channels, double load) {
        return new MachinePlan(
                row(id, site, gateway), control(), channels, this == SLAB_120, kgPerDay * load, Optional.empty());
    }

    private double runOnSeconds() {
        return this == CUBE_80 ? RUN_ON_SECONDS : 0;
    }

    private Control control() {
        Control control = Control.USUAL.with(
                switch (freeze) {
                    case TEMPERATURE -> new FreezeEnd.Temperature(-13, 420);
                    case LEVEL -> new FreezeEnd.Level(kgPerDay / 50);
                    case THICKNESS -> new FreezeEnd.Thickness(THICKNESS_MILLIMETRES);
                    case TIME -> new FreezeEnd.Time(TIMED_FREEZE_SECONDS);
                },
                harvest == EndsBy.TIME ? new HarvestEnd.Time(TIMED_HARVEST_SECONDS) : new HarvestEnd.Temperature(9));
        if (fill == EndsBy.LEVEL) {
            control = control.withFillByLevel();
        }
        double limit = drainLimitSeconds > 0 ? drainLimitSeconds : Double.POSITIVE_INFINITY;
        return drain == DrainKind.GRAVITY ? control.withDump(limit) : control;
    }

    private Machine row(String id, String site, String gateway) {
        Machine basic = Machine.basic(id, site, gateway);
        return new Machine(
                id,
                site,
                gateway,
                Optional.empty(),
                Optional.of(group()),
                Optional.empty(),
                basic.kind(),
                basic.condenserCooling(),
                kgPerDay,
                kgPerDay * 0.4,
                Optional.of(refrigerant.designation()),
                Optional.of(freeze),
                Optional.of(harvest),
                Optional.of(fill),
                basic.evaporatorProbeAt(),
                limits(),
                drain,
                basic.startDelaySeconds(),
                basic.place(),
                basic.care(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                new Build(Optional.of(sprayUnit()), Optional.of(drain), Optional.of(basic.condenserCooling())));
    }

    /** Slabs are made on a plate under a bar, cubes over jets. */
    private SprayUnit sprayUnit() {
        return this == SLAB_120 ? SprayUnit.BAR : SprayUnit.JETS;
    }

    private Limits limits() {
        return new Limits(
                OptionalDouble.of(Control.USUAL.condensingLimitCelsius()),
                OptionalDouble.of(Control.USUAL.pullDownLimitSeconds()),
                drainLimitSeconds > 0 ? OptionalDouble.of(drainLimitSeconds) : OptionalDouble.empty(),
                OptionalDouble.of(runOnSeconds()));
    }
}
