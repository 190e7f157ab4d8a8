package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.bench.Look;
import java.time.Duration;
import java.time.Instant;
import java.util.List;

/** What a look at the fleet finds for {@link FakeBench}: something of each kind. */
final class FakeLook {
    private FakeLook() {}

    static Look.Found found(Instant now, int days, int fitDays) {
        Instant until = now.minus(Duration.ofMinutes(20));
        return new Look.Found(
                until.minus(Duration.ofDays(days)),
                until.minus(Duration.ofDays(fitDays)),
                until,
                26,
                24,
                3,
                1,
                List.of(
                        new Look.Fit("pull-down", 22, 7_100, 0.948),
                        new Look.Fit("freeze", 22, 7_204, 0.957),
                        new Look.Fit("harvest", 20, 6_480, 0.81)),
                4,
                List.of(
                        new Look.Unfit("ice-0003", "site-1", "pull-down", 4.2, 318, List.of("slow-pull-down")),
                        new Look.Unfit("ice-0003", "site-1", "freeze", 2.1, 318, List.of("slow-pull-down")),
                        new Look.Unfit("ice-0004", "site-1", "split", -1.9, 290, List.of()),
                        new Look.Unfit("ice-0001", "site-2", "harvest", 1.6, 41, List.of("long-harvest"))),
                3,
                List.of(
                        new Look.Sensor("ice-0002", "site-1", "ambient_temperature", "silent", 0.92, 0.92, 0.92),
                        new Look.Sensor("ice-0004", "site-1", "ambient_temperature", "apart-from-room", 2.4, 1.9, 2.8),
                        new Look.Sensor(
                                "ice-0001", "site-2", "evaporator_temperature", "probe-moves", -1.8, -2.6, -1.1)),
                List.of(new Look.Group("cube-40", "harvest", 9, 0.9, -0.1)),
                List.of(
                        new Look.Part(
                                "expectations",
                                24,
                                List.of(
                                        new Look.LeftOut("no-cycle", 1, List.of("ice-0006")),
                                        new Look.LeftOut("few-cycles", 2, List.of("ice-0005", "ice-0007")))),
                        new Look.Part("silent", 27, List.of()),
                        new Look.Part(
                                "apart-from-room",
                                2,
                                List.of(
                                        new Look.LeftOut("no-sensor", 3, List.of("ice-0005", "ice-0006", "ice-0007")),
                                        new Look.LeftOut("alone", 22, List.of("ice-0001", "ice-0002")))),
                        new Look.Part("probe-moves", 27, List.of()),
                        new Look.Part(
                                "groups",
                                18,
                                List.of(
                                        new Look.LeftOut("not-judged", 3, List.of("ice-0005", "ice-0006", "ice-0007")),
                                        new Look.LeftOut("small-group", 6, List.of("ice-0001"))))));
    }
}
