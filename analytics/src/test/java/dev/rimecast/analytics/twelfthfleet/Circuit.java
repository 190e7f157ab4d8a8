package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.machine.Machine.Cooling;

/** Refrigerant circuit: compressor by saturation temperatures, condenser by effectiveness, evaporator against the plate. */
final class Circuit {
    private static final double DISPLACEMENT = 3.75e-4;
    private static final double AIR_CAPACITY = 112;
    private static final double CONDENSER_UA = 106;
    private static final double COIL = 3600;
    private static final double EVAPORATOR_UA = 130;
    private static final double POLYTROPE = 1.13;
    private static final double NATURAL_DRAUGHT = 0.07;

    private final Design design;
    private final double size;
    private final double condenserScatter;
    private final double pumpScatter;
    /** Condensing temperature and that of the coil, °C. */
    double condensing;

    double evaporating;
    /** Cold at the plate, W. */
    double cold;
    /** Shaft and motor, W. */
    double power;

    boolean fanOn;

    Circuit(Design design, double condenserScatter, double pumpScatter, double start) {
        this.design = design;
        this.size = design.size();
        this.condenserScatter = condenserScatter;
        this.pumpScatter = pumpScatter;
        this.condensing = start;
        this.evaporating = start;
    }

    /** Compressor on, cold to the plate. */
    void freeze(double plate, double sink, Ills ills, double dt) {
        evaporating += 0.35 * (plate - cold / (size * EVAPORATOR_UA * evaporatorShare(ills)) - evaporating);
        evaporating = Math.max(-48, Math.min(18, evaporating));
        double high = condensing + 2;
        double pe = Propane.pressurePa(evaporating);
        double ratio = Math.max(1.3, Propane.pressurePa(high) / pe);
        double density = Propane.vapourDensity(evaporating);
        double volumetric = Math.max(0.05, 0.95 * (1.05 - 0.05 * Math.pow(ratio, 1 / POLYTROPE)));
        double pumped = size * DISPLACEMENT * pumpScatter * density * volumetric * ills.pumping;
        double flow = pumped * ills.charge * ills.restriction;
        double work = POLYTROPE / (POLYTROPE - 1) * pe / density * (Math.pow(ratio, 1 - 1 / POLYTROPE) - 1) / 0.5;
        power = pumped * work * (0.4 + 0.6 * ills.charge * ills.restriction) / Math.sqrt(ills.pumping) + 30 * size;
        double gross = flow * Math.max(0, Propane.effect(evaporating, high));
        cold = Math.max(0, gross * (1 - 1.5 * ills.hotGasLeak));
        reject(cold + power * (1 - 0.3 * ills.hotGasLeak), sink, ills, dt);
    }

    private static double evaporatorShare(Ills ills) {
        return Math.max(0.25, 0.25 + 0.75 * ills.charge * ills.restriction);
    }

    private void reject(double heat, double sink, Ills ills, double dt) {
        if (design.fanCycles()) {
            fanOn = condensing > 36 || fanOn && condensing > 29;
        } else {
            fanOn = true;
        }
        condensing += dt / (size * COIL) * (heat - rejected(sink, ills));
        // a head-pressure valve floods a remote condenser in the cold
        double lowest = design.cooling() == Cooling.REMOTE && heat > 0 ? Math.min(28, condensing + 0.1 * dt) : -40;
        condensing = Math.max(lowest, Math.min(93, condensing));
    }

    private double rejected(double sink, Ills ills) {
        double share = fanOn ? Math.max(NATURAL_DRAUGHT, ills.air) : NATURAL_DRAUGHT;
        if (design.cooling() == Cooling.WATER) {
            share = Math.max(0.04, Math.min(1, (condensing - 33) / 9));
        }
        double capacity = size * AIR_CAPACITY * share;
        double ua = size * CONDENSER_UA * condenserScatter * ills.condenser * Math.pow(share, 0.5);
        double effectiveness = 1 - Math.exp(-ua / capacity);
        // warm air that comes back: Q = e C (Tc - Tin), Tin = T + r/(1-r) Q/C
        double back = ills.recirculated / (1 - ills.recirculated);
        return effectiveness * capacity * (condensing - sink) / (1 + effectiveness * back);
    }

    /** Hot gas to the plate, W: the work and what the warm coil gives. */
    double harvest(double plate, double sink, Ills ills, boolean open, double dt) {
        fanOn = false;
        double flow = ills.pumping * Math.pow(ills.charge, 1.3);
        power = size * (300 + 2 * (condensing - 30)) * (0.4 + 0.6 * ills.pumping);
        cold = 0;
        if (!open) {
            reject(power, sink, ills, dt);
            return 0;
        }
        boolean remote = design.cooling() == Cooling.REMOTE;
        double loss = remote ? 0 : size * 5 * (condensing - sink);
        double fromCoil = size * 10 * Math.max(0, condensing - Math.max(plate, 0)) * flow;
        condensing += dt / (size * COIL) * (-fromCoil + 0.45 * power - loss);
        condensing = Math.max(condensing, remote ? 22 : -40);
        evaporating = plate;
        return fromCoil + 0.95 * power * flow;
    }

    /** Compressor off; the coil goes to the air's temperature with some 15 minutes. */
    void rest(double sink, double plate, double dt) {
        cold = 0;
        power = 0;
        fanOn = false;
        condensing += (sink - condensing) * Math.min(1, dt / 900);
        evaporating = plate;
    }
}
