package dev.rimecast.telemetry.file.result;

/** Decimals of what is written, as the contract has them. Values are rounded here and nowhere before. */
final class Rounding {
    static final int CELSIUS = 2;
    static final int SECONDS = 1;
    static final int PROBABILITY = 3;

    private Rounding() {}
}
