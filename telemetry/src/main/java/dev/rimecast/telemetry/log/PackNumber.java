package dev.rimecast.telemetry.log;

/**
 * A pack's place in its gateway's own count, so that an acknowledgement can cover it.
 *
 * @param boot changes when the gateway's counter restarts
 * @param seq 1, 2, 3, … within one boot
 */
public record PackNumber(String boot, long seq) {
    public PackNumber {
        if (boot.isEmpty() || boot.length() > 64) {
            throw new IllegalArgumentException("boot must have 1 to 64 characters, had " + boot.length());
        }
        if (seq < 1) {
            throw new IllegalArgumentException("seq counts from 1, was " + seq);
        }
    }
}
