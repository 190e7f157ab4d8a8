/**
 * Test code: a judge's simulator of fleets, written from the trade's handbook physics and the contract's list of causes by a
 * hand that knows no detector and none of the other simulators. Judge by it, never tune it.
 *
 * <p>Physics: saturation pressure of R290 by the ancillary equation fitted to Lemmon et al. 2009; compressor by displacement,
 * volumetric efficiency and polytropic work (textbook forms, constants from memory); condenser by effectiveness and NTU
 * (Kays and London, from memory); ice by quasi-steady conduction (Stefan; flat, or inward in a cup); faults as the trade's
 * symptom matrix says. {@link dev.rimecast.analytics.twelfthfleet.TwelfthFleetFiles} writes a fleet.
 */
package dev.rimecast.analytics.twelfthfleet;
