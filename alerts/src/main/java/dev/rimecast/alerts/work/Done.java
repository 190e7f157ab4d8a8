package dev.rimecast.alerts.work;

import java.util.Optional;

/**
 * One thing that was done.
 *
 * @param detail the part, the sensor, or the refrigerant's designation (ASHRAE 34); words elsewhere; may be empty
 * @param grams of refrigerant; absent for everything else
 */
public record Done(Deed deed, String detail, Optional<Integer> grams) {
    public static Done of(Deed deed) {
        return new Done(deed, "", Optional.empty());
    }

    public static Done of(Deed deed, String detail) {
        return new Done(deed, detail, Optional.empty());
    }
}
