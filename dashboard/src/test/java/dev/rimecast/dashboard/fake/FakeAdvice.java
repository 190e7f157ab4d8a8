package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.Advice.EngineerCheck;
import dev.rimecast.alerts.view.Advice.SiteCheck;
import dev.rimecast.alerts.view.Advice.Told;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Advice of a realistic length, after the service practice of the trade (common practice, no source). */
final class FakeAdvice {
    private static final List<String> CAUTIONS = List.of(
            "Isolate power and water before a cover is opened, and lock them off: the machine restarts by itself.",
            "Pipes on the high side are hotter than 60 °C; condenser fins cut.",
            "Where the refrigerant is flammable: no ignition, ventilate, certified person only.");
    private static final List<String> DEFER_TO = List.of(
            "Local codes for electrical work, water fittings and refrigerants go before this text.",
            "Work on the refrigerant circuit is for certified persons only.");

    private FakeAdvice() {}

    static Advice about(Condition condition, Optional<Instant> latest) {
        boolean drain = condition == Condition.DRAIN_PUMP_OVERRUN;
        return new Advice(
                condition.code(),
                drain ? "Clear the way of the waste water." : "Let the machine breathe, then look at its condenser.",
                drain
                        ? List.of(
                                new SiteCheck(
                                        "Is water standing in the tundish or on the floor?", Told.YES_OR_NO, false),
                                new SiteCheck(
                                        "Is the waste hose kinked or squeezed behind the machine?", Told.MENDED, false))
                        : List.of(
                                new SiteCheck(
                                        "Slide the air filter out, wash it, let it dry, put it back.",
                                        Told.MENDED,
                                        false),
                                new SiteCheck("Keep a hand's width free in front of both grilles.", Told.MENDED, false),
                                new SiteCheck(
                                        "Is another machine blowing hot air at this one?", Told.YES_OR_NO, false)),
                List.of(
                        new EngineerCheck("Watch one whole cycle before anything is opened", "no error shown", false),
                        new EngineerCheck(
                                drain ? "Time the level signal of the drain tank" : "Brush the condenser coil",
                                drain ? "2 to 5 s, never above 6 s" : "split back to 14 K within two cycles",
                                true),
                        new EngineerCheck("Turn the fan by hand, measure its current", "turns freely", true)),
                drain ? List.of("drain pump", "level probe set") : List.of("coil brush", "fan motor with capacitor"),
                List.of(),
                45,
                List.of("electrical competence"),
                CAUTIONS,
                CAUTIONS,
                DEFER_TO,
                latest);
    }
}
