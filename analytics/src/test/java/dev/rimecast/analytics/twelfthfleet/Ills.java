package dev.rimecast.analytics.twelfthfleet;

/** What is wrong with a machine at a moment; as made, nothing is. Factors are 1 and shares 0 when sound. */
final class Ills {
    /** Air through the condenser, as a share of the sound flow. */
    double air = 1;
    /** Conductance of the condenser, as a share. */
    double condenser = 1;
    /** Share of the warm air that comes back to the grille. */
    double recirculated;
    /** Pumping of the compressor, as a share. */
    double pumping = 1;
    /** Effect of the charge that is there, as a share. */
    double charge = 1;
    /** Flow that a restriction lets through, as a share. */
    double restriction = 1;
    /** Hot gas that goes through the shut valve, share of the flow. */
    double hotGasLeak;
    /** How often the hot-gas valve does not open, share of harvests. */
    double hotGasStuck;
    /** Water that comes in, share of the usual flow. */
    double inflow = 1;
    /** kg/min that runs in through the shut inlet valve, of a machine of size 1. */
    double inletLeak;
    /** kg/min that leaves the sump in a freeze, of a machine of size 1. */
    double waterLoss;
    /** Water over the plate, as a share. */
    double circulation = 1;
    /** Lost cells or share of the plate that no water reaches. */
    double dryShare;
    /** Scale on the plate, 1 is a resistance as large as that of the clean plate. */
    double scale;
    /** Throughput of drain pump and hose, as a share. */
    double drain = 1;
    /** Level signals a day that no water causes. */
    double falseLevels;
    /** How often the compressor does not start, share of starts. */
    double noStart;
    /** Contact of the evaporator probe. */
    double contact = 1;
    /** K by which the evaporator probe reads too much. */
    double evaporatorOffset;

    boolean evaporatorMissing;
    /** K by which the condenser probe reads too much. */
    double condenserOffset;

    boolean condenserStuck;
    /** -1 never full, 1 always full. */
    int binStuck;

    boolean swapped;
    boolean cleaning;
    boolean switchedOff;
    /** s from power to fill beyond the usual. */
    double delay;
    /** Room air, °C, instead of its own; NaN for its own. */
    double room = Double.NaN;

    boolean linkDown;
}
