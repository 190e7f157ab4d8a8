package dev.rimecast.analytics.twelfthfleet;

import java.util.Random;

/** A site's air, water, mains, customers and link in steps of five minutes, all drawn beforehand. Time is s since the start. */
final class Place {
    static final int STEP = 300;
    private static final int DAY_STEPS = 86_400 / STEP;
    private static final double TWO_PI = 2 * Math.PI;

    final int open;
    final int close;
    final int closedWeekday;
    final boolean switchedOffAtNight;
    final boolean gatewayHasStore;
    final float[] room;
    final float[] outdoor;
    final float[] mains;
    /** Ice asked for, as a multiple of an even day's rate. */
    final float[] demand;

    final float[] pressure;
    final boolean[] powered;
    /** Step at which the link is back, 0 where it is up. */
    final int[] linkBack;

    final boolean[] holiday;
    final double[] maximum;

    Place(Random random, int days, double firstDayOfYear) {
        int n = days * DAY_STEPS + DAY_STEPS;
        room = new float[n];
        outdoor = new float[n];
        mains = new float[n];
        demand = new float[n];
        pressure = new float[n];
        powered = new boolean[n];
        linkBack = new int[n];
        holiday = new boolean[days + 1];
        maximum = new double[days + 1];
        open = 7 + random.nextInt(5);
        close = 21 + random.nextInt(3);
        closedWeekday = random.nextDouble() < 0.35 ? random.nextInt(7) : -1;
        switchedOffAtNight = random.nextDouble() < 0.15;
        gatewayHasStore = random.nextDouble() < 0.6;
        holidays(random, days);
        air(random, days, firstDayOfYear);
        customers(random, days);
        mainsAndLink(random, days, n);
    }

    private void holidays(Random random, int days) {
        if (days > 60 && random.nextDouble() < 0.3) {
            int first = 20 + random.nextInt(days - 45);
            int length = 4 + random.nextInt(8);
            for (int d = first; d < first + length; d++) {
                holiday[d] = true;
            }
        }
    }

    private void air(Random random, int days, double firstDay) {
        double yearMean = 9 + 6 * random.nextDouble();
        double yearSwing = 8 + 3 * random.nextDouble();
        double base = 20 + 3 * random.nextDouble();
        double coupling = 0.15 + 0.35 * random.nextDouble();
        double kitchen = random.nextDouble() < 0.5 ? 1 + 3 * random.nextDouble() : 0.5;
        double cellar = random.nextDouble() < 0.1 ? -4 : 0;
        double waterMean = 11 + 3 * random.nextDouble();
        double weather = 0;
        double slow = 0;
        double door = 0;
        int waveLeft = 0;
        for (int i = 0; i < room.length; i++) {
            int day = i / DAY_STEPS;
            double hour = i % DAY_STEPS * 24.0 / DAY_STEPS;
            double season = Math.cos(TWO_PI * (firstDay + day - 200) / 365.25);
            if (i % DAY_STEPS == 0) {
                weather = 0.8 * weather + 1.9 * random.nextGaussian();
                waveLeft = waveLeft > 0 ? waveLeft - 1 : season > 0.3 && random.nextDouble() < 0.035 ? 6 : 0;
            }
            double sun = Math.cos(TWO_PI * (hour - 15) / 24);
            double out = yearMean + yearSwing * season + weather + (4 + 1.5 * season) * sun + (waveLeft > 0 ? 6 : 0);
            outdoor[i] = (float) Math.min(out, 37);
            slow = 0.96 * slow + 0.16 * random.nextGaussian();
            door = door > 0.2 ? 0.7 * door : random.nextDouble() < 0.004 ? 1 + 3 * random.nextDouble() : 0;
            double meal = isOpen(i) ? Math.exp(-sq((hour - 13) / 1.6)) + 1.3 * Math.exp(-sq((hour - 19.5) / 1.8)) : 0;
            double indoors = base + cellar + coupling * (out - 16) + kitchen * meal + slow;
            indoors += door * Math.signum(out - indoors) * Math.min(1, Math.abs(out - indoors) / 8);
            room[i] = (float) Math.max(12, Math.min(34, indoors));
            mains[i] = (float) (waterMean + 5 * Math.cos(TWO_PI * (firstDay + day - 225) / 365.25) + 0.15 * slow);
            if (day < maximum.length) {
                maximum[day] = Math.max(i % DAY_STEPS == 0 ? -99 : maximum[day], outdoor[i]);
            }
        }
    }

    private void customers(Random random, int days) {
        double share = 0.45 + 0.35 * random.nextDouble();
        double ofDay = 1;
        int feast = 0;
        for (int i = 0; i < demand.length; i++) {
            double hour = i % DAY_STEPS * 24.0 / DAY_STEPS;
            if (i % DAY_STEPS == 0) {
                feast = feast > 0 ? feast - 1 : random.nextDouble() < 0.02 ? 1 + random.nextInt(2) : 0;
                int weekday = i / DAY_STEPS % 7;
                ofDay = (weekday >= 4 ? 1.25 : 0.9) * Math.exp(0.15 * random.nextGaussian()) * (feast > 0 ? 2 : 1);
            }
            double meal = 0.35 + 2.2 * Math.exp(-sq((hour - 12.5) / 1.3)) + 2.8 * Math.exp(-sq((hour - 20) / 2));
            demand[i] = isOpen(i) ? (float) (share * ofDay * 1.1 * meal) : 0;
            pressure[i] = (float) (1 - 0.12 * Math.exp(-sq((hour - 12) / 1.5)) * random.nextDouble());
        }
    }

    private void mainsAndLink(Random random, int days, int n) {
        for (int i = 0; i < n; i++) {
            boolean night = switchedOffAtNight && !withinOf(i, 1);
            powered[i] = !night && !(switchedOffAtNight && closedDay(i / DAY_STEPS));
        }
        for (double day = exponential(random, 60); day < days; day += exponential(random, 60)) {
            int from = (int) (day * DAY_STEPS);
            int to = Math.min(n, from + 1 + random.nextInt(30));
            for (int i = from; i < to; i++) {
                powered[i] = false;
                linkBack[i] = to;
            }
        }
        for (double day = exponential(random, 25); day < days; day += exponential(random, 25) + 2) {
            int from = (int) (day * DAY_STEPS);
            int to = Math.min(n, from + (int) (6 * Math.exp(1.3 * Math.abs(random.nextGaussian()))));
            for (int i = from; i < to; i++) {
                linkBack[i] = to;
            }
        }
    }

    boolean closedDay(int day) {
        return day % 7 == closedWeekday || day < holiday.length && holiday[day];
    }

    boolean isOpen(int step) {
        return withinOf(step, 0) && !closedDay(step / DAY_STEPS);
    }

    private boolean withinOf(int step, int hours) {
        double hour = step % DAY_STEPS * 24.0 / DAY_STEPS;
        return hour >= open - hours && hour < close + hours;
    }

    private static double sq(double x) {
        return x * x;
    }

    static double exponential(Random random, double mean) {
        return -mean * Math.log(1 - random.nextDouble());
    }
}
