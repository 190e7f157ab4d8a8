package dev.rimecast.analytics.fourthfleet;

import java.util.Locale;

/** A room, minute by minute: the weather comes in, cooking warms it, doors stand open. */
final class Room {
    private static final double WARMEST_CELSIUS = 36;
    private static final double HOT_CELSIUS = 41;

    /** Kinds: usual temperature, share of the weather that comes in, and heat of the work. */
    enum Kind {
        KITCHEN(20.5, .30, 5),
        BAR(20, .26, 1.8),
        CELLAR(17, .22, 1.2),
        PANTRY(20.5, .28, 2.5);

        final double baseCelsius;
        final double coupling;
        final double loadKelvin;

        Kind(double baseCelsius, double coupling, double loadKelvin) {
            this.baseCelsius = baseCelsius;
            this.coupling = coupling;
            this.loadKelvin = loadKelvin;
        }
    }

    final Kind kind;
    final String name;
    private final double baseCelsius;
    private final double coupling;
    private final double loadKelvin;
    private final Chance chance;
    private double wander;
    private long doorUntil;
    private double celsius;

    Room(Kind kind, boolean second, Chance chance) {
        this.kind = kind;
        this.name = kind.name().toLowerCase(Locale.ROOT) + (second ? "-2" : "");
        this.chance = chance;
        baseCelsius = kind.baseCelsius + chance.gauss(1.1);
        coupling = kind.coupling * chance.between(.75, 1.25);
        loadKelvin = kind.loadKelvin * chance.between(.6, 1.3);
        celsius = baseCelsius + 2;
    }

    double celsius() {
        return celsius;
    }

    /** @param hotKelvin what makes the room too hot, 0 if nothing does */
    void minute(long t, double outdoorCelsius, Opening opening, double hotKelvin) {
        double base = baseCelsius + coupling * (outdoorCelsius - 15);
        boolean open = opening.isOpen(t);
        if (open) {
            double hour = opening.hour(t);
            double meals = Opening.hump(hour, 12.7, 1.6) + Opening.hump(hour, 19.7, 2);
            base += loadKelvin * (.55 + .45 * meals);
        }
        base = Math.min(base, WARMEST_CELSIUS);
        if (doorUntil > t) {
            base = .6 * base + .4 * outdoorCelsius;
        } else if (open && chance.hit(.35 / 900)) {
            doorUntil = t + (long) (60 * chance.between(15, 70));
        }
        wander = .97 * wander + chance.gauss(.11);
        boolean hot = hotKelvin > 0;
        double target = hot ? Math.max(base + hotKelvin, HOT_CELSIUS) : base;
        celsius = Math.max(8, celsius + (target + wander - celsius) / (hot ? 100 : 45));
    }
}
