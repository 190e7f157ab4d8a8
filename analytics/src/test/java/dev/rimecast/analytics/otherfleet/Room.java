package dev.rimecast.analytics.otherfleet;

import java.time.DayOfWeek;
import java.util.SplittableRandom;

/** A room's air, minute by minute: heating with night set-back, weather, people and ovens, doors that open. */
final class Room {
    private static final double MINUTES_TO_FOLLOW = 75;
    private static final double COOLED_ABOVE_CELSIUS = 27.5;

    private final Premises premises;
    private final double ownKelvin;
    private final SplittableRandom random;
    private double airCelsius;
    private double slowOutdoor;
    private double draught;
    private double doorMinutes;

    Room(Premises premises, double outdoorCelsius, SplittableRandom random) {
        this.premises = premises;
        this.random = random;
        this.ownKelvin = Math.max(-1.8, Math.min(1.8, random.nextGaussian()));
        this.airCelsius = premises.heatedToCelsius;
        this.slowOutdoor = outdoorCelsius;
    }

    void minute(double outdoorCelsius, double hourOfDay, DayOfWeek day) {
        slowOutdoor += (outdoorCelsius - slowOutdoor) / 700;
        boolean open = premises.isOpen(hourOfDay, day);
        double set = premises.heatedToCelsius + ownKelvin - (open ? 0 : premises.nightSetBackKelvin);
        // above about 14 °C out of doors a room needs no heating and begins to follow the weather
        double free = slowOutdoor + 6.5 + ownKelvin + premises.openness * (outdoorCelsius - slowOutdoor);
        double target = Math.max(set, free) + premises.busyGainKelvin * premises.busy(hourOfDay, day);
        target = Math.min(target, COOLED_ABOVE_CELSIUS + 0.3 * (target - COOLED_ABOVE_CELSIUS));
        draught = 0.97 * draught + 0.06 * random.nextGaussian();
        if (open && doorMinutes <= 0 && random.nextInt(240) == 0) {
            doorMinutes = 3 + random.nextInt(15);
        }
        if (doorMinutes > 0) {
            doorMinutes--;
            target += 0.3 * (outdoorCelsius - target);
        }
        airCelsius += (target - airCelsius) / MINUTES_TO_FOLLOW + 0.2 * draught;
    }

    double airCelsius() {
        return airCelsius;
    }
}
