package dev.rimecast.analytics.fourthfleet;

/** The air out of doors hour by hour: season, day, spells of some days, and heat waves of 5 to 9 K. */
final class Weather {
    private static final double WARMEST_DAY = 205;
    private static final int WARMEST_HOUR = 14;

    private final long start;
    private final double[] hourly;

    Weather(Climate climate, long start, int days, Chance chance) {
        this.start = start;
        double[] daily = daily(climate, start, days, chance);
        hourly = new double[(days + 1) * 24];
        for (int i = 0; i < hourly.length; i++) {
            int day = i / 24;
            int hour = i % 24;
            double w = hour / 24.0;
            double swing = climate.air.dayKelvin() * Math.cos(2 * Math.PI * (hour - WARMEST_HOUR) / 24);
            hourly[i] = daily[day] * (1 - w) + daily[day + 1] * w + swing + chance.gauss(.4);
        }
    }

    private static double[] daily(Climate climate, long start, int days, Chance chance) {
        double[] daily = new double[days + 2];
        double spell = 0;
        double wave = 0;
        int waveDays = 0;
        for (int day = 0; day < daily.length; day++) {
            spell = .72 * spell + chance.gauss(2.1);
            if (waveDays > 0) {
                waveDays--;
            } else {
                wave = 0;
                if (chance.hit(.022)) {
                    waveDays = 4 + chance.below(6);
                    wave = chance.between(5, 9);
                }
            }
            double season = Climate.season(start / 86_400.0 + day, WARMEST_DAY);
            daily[day] = climate.air.meanCelsius() + climate.air.yearKelvin() * season + spell + wave;
        }
        return daily;
    }

    double celsius(long t) {
        double hours = Math.max(0, (t - start) / 3600.0);
        int i = (int) hours;
        if (i + 1 >= hourly.length) {
            return hourly[hourly.length - 1];
        }
        double w = hours - i;
        return hourly[i] * (1 - w) + hourly[i + 1] * w;
    }

    double highest(int day) {
        double highest = hourly[day * 24];
        for (int hour = 1; hour < 24; hour++) {
            highest = Math.max(highest, hourly[day * 24 + hour]);
        }
        return highest;
    }
}
