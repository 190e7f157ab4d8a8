package dev.rimecast.analytics.cycle;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Draws the temperatures of regular cycles with known turning points. It is a drawing, not a model of heat: plate from +10 to
 * 0 °C along an exponential in {@code pullDownSeconds}, on towards -19 °C, up again in the harvest.
 */
public final class PlateModel {
    public static final String MACHINE = "ice-1";

    public final List<Reading> readings = new ArrayList<>();
    public final List<Long> freezeStarts = new ArrayList<>();
    private final int stepSeconds;
    private final double noiseKelvin;
    private final boolean sendsPhase;
    private final boolean sendsTemperatures;
    private final boolean sendsLengths;
    private final Random random;
    public double pullDownSeconds = 160;
    public double freezeSeconds = 1230;
    public double harvestSeconds = 200;
    public double splitKelvin = 15;
    public double ambientCelsius = 25;
    /** What a plate without ice on it comes to at rest: cold over ice, as warm as the room over an empty bin. */
    public double restingPlateCelsius = 4;

    /** What the plate comes to in a harvest: well above freezing where hot gas reaches it. */
    public double harvestPlateCelsius = 10;
    /** How much warmer than the room the air is that the machine takes in, K. */
    public double inletKelvin;

    /** Whether there is a sensor of the air. */
    public boolean hasAmbientSensor = true;
    /** Whether the controller sends with every row whether the bin is full; not while it is switched off. */
    public boolean sendsBin;

    private long now;
    private long nextSample;
    private double plate = 10;
    private double condenser = 30;
    private boolean silent;

    public PlateModel(
            int stepSeconds, double noiseKelvin, boolean temperatures, boolean phase, boolean lengths, long seed) {
        this.stepSeconds = stepSeconds;
        this.noiseKelvin = noiseKelvin;
        this.sendsTemperatures = temperatures;
        this.sendsPhase = phase;
        this.sendsLengths = lengths;
        this.random = new Random(seed);
        this.now = 1_777_800_000_000L + random.nextInt(60_000);
        this.nextSample = now;
    }

    public long now() {
        return now;
    }

    public PlateModel cycles(int count) {
        for (int i = 0; i < count; i++) {
            freeze(freezeSeconds);
            harvest();
        }
        return this;
    }

    public PlateModel freeze(double seconds) {
        freezeStarts.add(now);
        long start = now;
        double from = plate;
        double tau = pullDownSeconds / Math.log((Math.max(from, 4) + 19) / 19);
        boolean crossed = false;
        while (now - start < seconds * 1000) {
            double t = (now - start) / 1000.0;
            plate = -19 + (from + 19) * Math.exp(-t / tau);
            double target = ambientCelsius + inletKelvin + splitKelvin + 6 * Math.exp(-t / 200);
            condenser += (target - condenser) * (1 - Math.exp(-1 / 60.0));
            sample(Phase.FREEZE);
            if (!crossed && t >= pullDownSeconds) {
                crossed = true;
                length(Channel.PULL_DOWN_TIME, pullDownSeconds);
            }
        }
        length(Channel.FREEZE_TIME, seconds);
        return this;
    }

    public PlateModel harvest() {
        long start = now;
        double from = plate;
        while (now - start < harvestSeconds * 1000) {
            plate = from + (harvestPlateCelsius - from) * (now - start) / 1000 / harvestSeconds;
            condenser += (ambientCelsius + 9 - condenser) * (1 - Math.exp(-1 / 60.0));
            sample(Phase.HARVEST);
        }
        length(Channel.HARVEST_TIME, harvestSeconds);
        return this;
    }

    /** The compressor is off: the plate drifts to what it rests at, or to 0 °C while it carries ice, the condenser to the room. */
    public PlateModel rest(double seconds, Phase phase) {
        long start = now;
        double target = plate < 0 ? 0 : restingPlateCelsius;
        while (now - start < seconds * 1000) {
            plate += (target - plate) * (1 - Math.exp(-1 / 400.0));
            condenser += (ambientCelsius - condenser) * (1 - Math.exp(-1 / 150.0));
            sample(phase);
        }
        return this;
    }

    /** The readings as those of another machine. */
    public List<Reading> readingsOf(String machine) {
        return readings.stream()
                .map(r -> new Reading(machine, r.channel(), r.timeMillis(), r.value(), r.text()))
                .toList();
    }

    public PlateModel silent(boolean on) {
        silent = on;
        return this;
    }

    private void sample(Phase phase) {
        if (now >= nextSample) {
            nextSample += stepSeconds * 1000L;
            if (!silent) {
                if (sendsTemperatures) {
                    number(Channel.EVAPORATOR_TEMPERATURE, plate + noise());
                    number(Channel.CONDENSER_TEMPERATURE, condenser + noise());
                    if (hasAmbientSensor) {
                        number(Channel.AMBIENT_TEMPERATURE, ambientCelsius + inletKelvin + noise());
                    }
                }
                if (sendsBin && phase != Phase.OFF) {
                    number(Channel.BIN_FULL, phase == Phase.IDLE ? 1 : 0);
                }
                if (sendsPhase) {
                    readings.add(Reading.phase(MACHINE, now, phase));
                }
            }
        }
        now += 1000;
    }

    private double noise() {
        return random.nextGaussian() * noiseKelvin;
    }

    private void number(Channel channel, double value) {
        readings.add(Reading.number(MACHINE, channel, now, Math.round(value * 10) / 10.0));
    }

    private void length(Channel channel, double seconds) {
        if (sendsLengths && !silent) {
            readings.add(Reading.number(MACHINE, channel, now, seconds));
        }
    }
}
