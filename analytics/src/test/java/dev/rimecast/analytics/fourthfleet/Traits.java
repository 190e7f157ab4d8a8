package dev.rimecast.analytics.fourthfleet;

/**
 * The constants of one machine: those of a lumped model of 50 kg a day, scaled to its size, with a few percent of scatter on
 * each. Capacity, conductances, contact, masses and melted share are handbook physics at common practice's sizes.
 */
final class Traits {
    final MachineGroup group;
    final double size;
    final double capacityWatt;
    final double workWatt;
    final double condenserWattPerKelvin;
    final double evaporatorWattPerKelvin;
    final double convectionWattPerKelvin;
    final double contactKelvinPerWatt;
    final double iceAreaSquareMetre;
    final double plateJoulePerKelvin;
    final double condenserJoulePerKelvin;
    final double sumpKg;
    final double supplyKgPerSecond;
    final double meltedShare;
    final double fanWatt;
    final double pumpWatt;
    final double powerFactor;
    final double ownRecirculationKelvin;
    final double placeKelvin;
    final double retainedShare;
    final double freezeEndCelsius;
    final double freezeTimerSeconds;
    final double batchKg;
    final double drainLevelSeconds;
    final double drainTankKg;

    Traits(MachineGroup group, Scatter scatter) {
        this.group = group;
        size = group.size();
        capacityWatt = 640 * size * scatter.about(.035, 2.2);
        boolean small = group.ratedKgPerDay < 30;
        workWatt = capacityWatt / (2.0 * scatter.about(.03, 2) * (small ? .92 : 1));
        condenserWattPerKelvin = 53 * size * scatter.about(.07, 2.2);
        evaporatorWattPerKelvin = 100 * size * scatter.about(.05, 2);
        convectionWattPerKelvin = 250 * size * scatter.about(.06, 2);
        contactKelvinPerWatt = .0055 / size * scatter.about(.08, 2);
        iceAreaSquareMetre = .105 * size * scatter.about(.02, 2);
        plateJoulePerKelvin = 3000 * size * scatter.about(.04, 2);
        condenserJoulePerKelvin = 3600 * size * scatter.about(.05, 2);
        sumpKg = 2.45 * size * scatter.about(.03, 2);
        supplyKgPerSecond = .050 * size * scatter.between(.85, 1.3);
        meltedShare = .055 * scatter.about(.08, 2);
        fanWatt = 38 * Math.pow(size, .8);
        pumpWatt = 22 * Math.pow(size, .7);
        ownRecirculationKelvin = Math.abs(scatter.gauss(.8));
        placeKelvin = scatter.gauss(.5);
        retainedShare = scatter.between(.2, .32);
        freezeEndCelsius = group.freezeEndCelsius() + scatter.gauss(.25);
        freezeTimerSeconds = group.freezeTimerSeconds() * (1 + scatter.gauss(.03));
        batchKg = group.batchKg() * size * scatter.about(.03, 2);
        drainLevelSeconds = scatter.between(1.2, 2.6);
        drainTankKg = scatter.between(.9, 1.4);
        powerFactor = scatter.between(.66, .8);
    }
}
