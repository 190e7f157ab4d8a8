package dev.rimecast.analytics.otherfleet;

import java.util.SplittableRandom;

/** Out of doors and in the mains: seasons, spells of some days, day and night, now and then a heat wave. */
final class Weather {
    private static final double DAY_SECONDS = 86_400;

    private final double[] spell;
    private final int firstDayOfYear;

    /** @param heatWave whether one of five to eight days falls into the second half of the time */
    Weather(int days, int firstDayOfYear, boolean heatWave, SplittableRandom random) {
        this.firstDayOfYear = firstDayOfYear;
        spell = new double[days + 3];
        double x = 0;
        for (int day = 0; day < spell.length; day++) {
            x = 0.75 * x + 2.1 * random.nextGaussian();
            spell[day] = x;
        }
        if (heatWave) {
            int from = days / 2 + random.nextInt(Math.max(1, days / 3));
            int length = 5 + random.nextInt(4);
            for (int day = from; day < Math.min(spell.length, from + length); day++) {
                spell[day] = Math.max(spell[day], 0) + 7;
            }
        }
    }

    double outdoorCelsius(double now) {
        double day = now / DAY_SECONDS;
        int i = Math.max(0, Math.min(spell.length - 2, (int) day));
        double between = spell[i] + (day - i) * (spell[i + 1] - spell[i]);
        double season = -Math.cos(2 * Math.PI * (firstDayOfYear + day - 20) / 365.25);
        double hour = (day - Math.floor(day)) * 24;
        return 10.5 + 8.5 * season + between + (3 + 1.5 * season) * Math.sin(2 * Math.PI * (hour - 9) / 24);
    }

    /** The mains follow the season by weeks, 8 to 21 °C over a year. */
    double mainsCelsius(double now) {
        double day = now / DAY_SECONDS;
        int i = Math.max(0, Math.min(spell.length - 2, (int) day));
        return 14.2 - 6.3 * Math.cos(2 * Math.PI * (firstDayOfYear + day - 50) / 365.25) + 0.12 * spell[i];
    }
}
