package dev.rimecast.simulator.place;

/**
 * How a site's weather differs from the recorded one.
 *
 * @param warmerKelvin added to every temperature out of doors
 * @param seasonDays days by which the season is ahead; half a year turns winter into summer
 */
public record Climate(double warmerKelvin, int seasonDays) {
    public static final Climate RECORDED = new Climate(0, 0);
}
