package dev.rimecast.alerts.view;

import dev.rimecast.alerts.priority.Clocks;

/**
 * How a site stands for ice.
 *
 * @param says what its ice clock says
 * @param words the same in a sentence, with hours of the site and kilograms
 */
public record SiteIce(Clocks.Ice says, String words) {}
