package dev.rimecast.simulator.place;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

/**
 * Temperature out of doors: four recorded years of daily extremes, with the shape of the day from hourly normals. A
 * temperate coastal climate (see {@code NOTICE.txt} beside the data); a site shifts it in level and in season.
 */
public final class Weather {
    private static final long HOUR_MILLIS = 3_600_000;
    private static final long DAY_MILLIS = 24 * HOUR_MILLIS;
    /** The recorded days begin with 1 January of a leap year, as did 1972. */
    private static final long FIRST_EPOCH_DAY = LocalDate.of(1972, 1, 1).toEpochDay();

    private final double[][] extremes;
    private final double[][] shapes;

    private Weather(double[][] extremes, double[][] shapes) {
        this.extremes = extremes;
        this.shapes = shapes;
    }

    /** The weather that comes with the simulator. */
    public static Weather recorded() {
        double[][] shapes = read("hourly-normals.csv");
        for (double[] day : shapes) {
            normalise(day);
        }
        return new Weather(read("daily-temperatures.csv"), shapes);
    }

    /**
     * Temperature, °C, continuous in time.
     *
     * @param localMillis milliseconds since 1970-01-01 00:00 of the place's own clock
     */
    public double celsius(long localMillis) {
        long hour = Math.floorDiv(localMillis, HOUR_MILLIS);
        double share = Math.floorMod(localMillis, HOUR_MILLIS) / (double) HOUR_MILLIS;
        return (1 - share) * atHour(hour) + share * atHour(hour + 1);
    }

    /** Mean of the day's extremes, °C. */
    public double dayMeanCelsius(long localMillis) {
        double[] day = extremes(Math.floorDiv(localMillis, DAY_MILLIS));
        return (day[0] + day[1]) / 2;
    }

    private double atHour(long hour) {
        long day = Math.floorDiv(hour, 24);
        int ofDay = Math.floorMod(hour, 24);
        // Extremes belong to the day's middle and change linearly between, so that midnight has no jump.
        double middle = (ofDay - 12) / 24.0;
        double[] today = extremes(day);
        double[] other = extremes(middle < 0 ? day - 1 : day + 1);
        double weight = Math.abs(middle);
        double max = (1 - weight) * today[0] + weight * other[0];
        double min = (1 - weight) * today[1] + weight * other[1];
        return min + (max - min) * shapes[Math.floorMod(day - FIRST_EPOCH_DAY, 1461) % 365][ofDay];
    }

    private double[] extremes(long epochDay) {
        return extremes[Math.floorMod(epochDay - FIRST_EPOCH_DAY, extremes.length)];
    }

    private static void normalise(double[] day) {
        double low = day[0];
        double high = day[0];
        for (double value : day) {
            low = Math.min(low, value);
            high = Math.max(high, value);
        }
        for (int i = 0; i < day.length; i++) {
            day[i] = (day[i] - low) / (high - low);
        }
    }

    private static double[][] read(String name) {
        List<double[]> rows = new ArrayList<>();
        try (InputStream in = Weather.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException("resource " + name + " is missing");
            }
            BufferedReader reader = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
            reader.readLine();
            for (String line = reader.readLine(); line != null; line = reader.readLine()) {
                String[] cells = line.split(",", -1);
                double[] row = new double[cells.length];
                for (int i = 0; i < row.length; i++) {
                    row[i] = Double.parseDouble(cells[i]);
                }
                rows.add(row);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return rows.toArray(double[][]::new);
    }
}
