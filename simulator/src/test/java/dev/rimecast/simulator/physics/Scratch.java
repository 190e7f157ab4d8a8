package dev.rimecast.simulator.physics;

public final class Scratch {
    static void row(String name, Bench.Result r, Object stop) {
        System.out.printf("%-22s pd %5.2f fr %5.2f hv %5.1f Tc %5.1f split %5.1f Te %6.1f b %5.3f y %5.1f e %.3f dl %4.1f runs %.1f w %.2f cl %.4f %s%n", name,
            r.pullDownMinutes(), r.freezeMinutes(), r.harvestSeconds(), r.condenserEnd(), r.split(), r.plateMin(), r.batchKg(), r.kgPerDay(), r.kwhPerKg(), r.drainLevelSeconds(), r.pumpRuns(), r.waterPerKg(), r.closure(), stop);
    }
    public static void main(String[] a) {
        double[][] c = {{10,10},{21,15},{25,15},{32.2,21.1},{38,25},{43,30},{26,15},{25,16}};
        for (double[] x : c) { Bench b = Bench.usual(x[0], x[1]); row(x[0]+"/"+x[1], b.measure(), b.stop); }
        f("UA-20", Ailment.CONDENSER_CONDUCTANCE, .8); f("UA-40", Ailment.CONDENSER_CONDUCTANCE, .6); f("UA-60", Ailment.CONDENSER_CONDUCTANCE, .4); f("fan", Ailment.CONDENSER_CONDUCTANCE, .15);
        f("charge-15", Ailment.CHARGE, .85); f("charge-30", Ailment.CHARGE, .7); f("charge-50", Ailment.CHARGE, .5);
        f("hotgas5", Ailment.HOT_GAS_LEAK, .05);f("hotgas10", Ailment.HOT_GAS_LEAK, .1); f("hotgas25", Ailment.HOT_GAS_LEAK, .25);
        f("hg not open", Ailment.HOT_GAS_OPENING, 0);
        f("inlet.1", Ailment.INLET_LEAK, .1); f("inlet.3", Ailment.INLET_LEAK, .3); f("inlet.6", Ailment.INLET_LEAK, .6);
        f("loss.1", Ailment.WATER_LOSS, .1); f("loss.2", Ailment.WATER_LOSS, .2);
        f("nowater", Ailment.WATER_SUPPLY, 0);
        f("circ-40", Ailment.CIRCULATION, .6); f("circ-70", Ailment.CIRCULATION, .3);
        f("scale1.5", Ailment.SCALE, 1.5); f("scale2", Ailment.SCALE, 2); f("scale3", Ailment.SCALE, 3);
        f("c.9", Ailment.EVAPORATOR_CONTACT, .9); f("c.75", Ailment.EVAPORATOR_CONTACT, .75); f("c.5", Ailment.EVAPORATOR_CONTACT, .5);
        f("nc3", Ailment.NON_CONDENSABLE_KELVIN, 3);
        f("drain.7", Ailment.DRAIN_FLOW, .7);
        f("drain.5", Ailment.DRAIN_FLOW, .5);
        Design d = Design.ofRating(50);
        for (FreezeEnd fe : new FreezeEnd[]{new FreezeEnd.Level(1.0), new FreezeEnd.Thickness(9.5), new FreezeEnd.Time(1260)})
          for (double sc : new double[]{1,2}) {
            Bench b = new Bench(d, Control.USUAL.with(fe, new HarvestEnd.Time(230)).withDump(6), DrainDesign.gravity(d), 25, 15).with(x -> x.with(Ailment.SCALE, sc));
            row(fe.toString().substring(0,12)+sc, b.measure(), b.stop); }
        for (int k=0;k<3;k++){ var mx=java.lang.management.ManagementFactory.getThreadMXBean(); long t0=mx.getCurrentThreadCpuTime(); Bench b = Bench.usual(25,15); b.runSeconds(86400*200.0); double s=(mx.getCurrentThreadCpuTime()-t0)/1e9; System.out.println("machine-days/cpu s "+200/s);}
    }
    static void f(String n, Ailment w, double v) { Bench b = Bench.usual(25,15).with(x -> x.with(w, v)); row(n, b.measure(), b.stop); }
}
