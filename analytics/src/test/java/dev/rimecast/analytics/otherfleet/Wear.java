package dev.rimecast.analytics.otherfleet;

/** What is no longer as it was built. Factors are 1 and losses 0 on a new machine; faults set them once a minute. */
final class Wear {
    double airFlow = 1;
    double condenserArea = 1;
    double recirculation;
    double charge = 1;
    /** Air in the circuit: by how much the pressure stands above that of the condensing temperature, K. */
    double airKelvin;

    double feed = 1;
    double volumetric = 1;
    double compressorWork = 1;
    double hotGasLeak;
    double hotGasOpening = 1;
    double inletLeakKgPerSecond;
    double dumpLeakKgPerSecond;
    /** Lost only while water is circulated: past the curtain, past the spray unit. */
    double splashKgPerSecond;

    double waterFlow = 1;
    double coverage = 1;
    /** Scale between plate and water, as a multiple of the plate's own contact resistance. */
    double scale;

    double supplyPressure = 1;
    double drainFlow = 1;
    double probesFouled;
    double evaporatorContact = 1;
    boolean compressorDead;
    boolean controllerHangs;
    boolean binStuckFull;
    boolean binStuckEmpty;
    boolean fanDead;

    void reset() {
        airFlow = 1;
        condenserArea = 1;
        recirculation = 0;
        charge = 1;
        airKelvin = 0;
        feed = 1;
        volumetric = 1;
        compressorWork = 1;
        hotGasLeak = 0;
        hotGasOpening = 1;
        inletLeakKgPerSecond = 0;
        dumpLeakKgPerSecond = 0;
        splashKgPerSecond = 0;
        waterFlow = 1;
        coverage = 1;
        scale = 0;
        supplyPressure = 1;
        drainFlow = 1;
        probesFouled = 0;
        evaporatorContact = 1;
        compressorDead = false;
        controllerHangs = false;
        binStuckFull = false;
        binStuckEmpty = false;
        fanDead = false;
    }
}
