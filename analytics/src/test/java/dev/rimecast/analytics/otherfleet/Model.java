package dev.rimecast.analytics.otherfleet;

import static dev.rimecast.telemetry.machine.Machine.EndsBy.LEVEL;
import static dev.rimecast.telemetry.machine.Machine.EndsBy.TEMPERATURE;
import static dev.rimecast.telemetry.machine.Machine.EndsBy.THICKNESS;
import static dev.rimecast.telemetry.machine.Machine.EndsBy.TIME;

import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.ProbeAt;

/** Kinds of machine that differ in circuit and control, not in size alone. */
enum Model {
    ALDER("alder", Refrigerant.R290, Expansion.VALVE, TEMPERATURE, HarvestEnd.TEMPERATURE, TIME, DrainKind.PUMP),
    BIRCH(
            "birch",
            Refrigerant.R134A,
            Expansion.CAPILLARY,
            TEMPERATURE,
            HarvestEnd.TEMPERATURE,
            TIME,
            DrainKind.GRAVITY),
    CEDAR("cedar", Refrigerant.R404A, Expansion.VALVE, LEVEL, HarvestEnd.CURTAIN, LEVEL, DrainKind.GRAVITY),
    ELM("elm", Refrigerant.R290, Expansion.CAPILLARY, LEVEL, HarvestEnd.TEMPERATURE, LEVEL, DrainKind.PUMP),
    HAZEL("hazel", Refrigerant.R404A, Expansion.VALVE, THICKNESS, HarvestEnd.TEMPERATURE, LEVEL, DrainKind.PUMP),
    MAPLE("maple", Refrigerant.R134A, Expansion.CAPILLARY, TIME, HarvestEnd.TIME, TIME, DrainKind.GRAVITY);

    /** How liquid gets into the evaporator. */
    enum Expansion {
        /** Opens until the evaporator is filled; has a reserve, and a receiver behind the condenser. */
        VALVE,
        /** Passes what pressure, and liquid at its inlet, give it. */
        CAPILLARY
    }

    /** What ends a harvest. The register has no word for a curtain switch, so it says nothing for those. */
    enum HarvestEnd {
        TEMPERATURE,
        TIME,
        CURTAIN
    }

    private final String group;
    private final Refrigerant refrigerant;
    private final Expansion expansion;
    private final EndsBy freezeEndsBy;
    private final HarvestEnd harvestEndsBy;
    private final EndsBy fillEndsBy;
    private final DrainKind drainKind;

    Model(
            String group,
            Refrigerant refrigerant,
            Expansion expansion,
            EndsBy freezeEndsBy,
            HarvestEnd harvestEndsBy,
            EndsBy fillEndsBy,
            DrainKind drainKind) {
        this.group = group;
        this.refrigerant = refrigerant;
        this.expansion = expansion;
        this.freezeEndsBy = freezeEndsBy;
        this.harvestEndsBy = harvestEndsBy;
        this.fillEndsBy = fillEndsBy;
        this.drainKind = drainKind;
    }

    String group() {
        return group;
    }

    Refrigerant refrigerant() {
        return refrigerant;
    }

    Expansion expansion() {
        return expansion;
    }

    EndsBy freezeEndsBy() {
        return freezeEndsBy;
    }

    HarvestEnd harvestEndsBy() {
        return harvestEndsBy;
    }

    EndsBy fillEndsBy() {
        return fillEndsBy;
    }

    DrainKind drainKind() {
        return drainKind;
    }

    /** Water in the full sump for each kilogram of a batch. */
    double sumpPerBatch() {
        return this == HAZEL ? 2.6 : this == CEDAR ? 1.7 : 2.1;
    }

    /** How the surface grows with 10 mm of ice: fingers dipped in water grow outwards, cups close inwards. */
    double iceAreaGrowth() {
        return this == BIRCH || this == MAPLE ? 0.5 : -0.25;
    }

    /** Share of its own warm air that a freely standing machine takes in again. */
    double recirculation() {
        return this == ELM ? 0.07 : 0.03;
    }

    boolean fanOnPressureSwitch() {
        return this == CEDAR || this == ALDER;
    }

    /** Compressor runs for so long before water is sprayed, s. */
    int preChillSeconds() {
        return this == CEDAR ? 12 : 0;
    }

    /** The sump is emptied and rinsed after so many cycles. */
    int purgeEveryCycles() {
        return this == HAZEL ? 4 : this == ELM ? 2 : 1;
    }

    /** Water is taken in while ice falls, or afterwards. */
    boolean fillsInHarvest() {
        return this == ALDER || this == BIRCH || this == MAPLE;
    }

    ProbeAt probeAt() {
        return this == BIRCH || this == ELM ? ProbeAt.OUTLET : ProbeAt.PLATE;
    }
}
