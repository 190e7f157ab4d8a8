package dev.rimecast.telemetry.file;

import java.time.LocalDate;

/**
 * One line of {@code weather.csv}.
 *
 * @param date in the site's own time zone
 * @param maxCelsius expected maximum out of doors, °C
 */
public record WeatherRow(String site, LocalDate date, double maxCelsius) {}
