package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * A machine as it is now.
 *
 * @param now newest value of each channel that it has ever sent, by channel name
 * @param openAlerts most urgent first
 */
public record MachineJson(
        String machine,
        SiteJson site,
        Optional<String> room,
        Optional<String> modelGroup,
        Optional<String> serial,
        String gateway,
        String kind,
        String condenserCooling,
        double ratedKgPerDay,
        double binKg,
        Optional<String> refrigerant,
        Optional<LocalDate> installed,
        Optional<LocalDate> warrantyUntil,
        LimitsJson limits,
        Optional<Instant> lastReadingAt,
        Map<String, NowJson> now,
        List<AlertJson> openAlerts,
        Optional<HoldJson> outOfService) {

    /** A value with its unit; {@code text} for phase and status. */
    public record NowJson(Instant at, double value, String text, String unit) {}

    public static MachineJson of(MachineView view) {
        Machine machine = view.machine();
        return new MachineJson(
                machine.id(),
                SiteJson.of(view.site()),
                machine.room(),
                machine.modelGroup(),
                machine.serial(),
                machine.gateway(),
                word(machine.kind()),
                word(machine.condenserCooling()),
                machine.ratedKgPerDay(),
                machine.binKg(),
                machine.refrigerant(),
                machine.installed(),
                machine.warrantyUntil(),
                LimitsJson.of(machine),
                view.lastReadingAt(),
                now(view.now()),
                view.openAlerts().stream().map(AlertJson::of).toList(),
                view.outOfService().map(HoldJson::of));
    }

    /** In the order of the contract, so that the answer for the same state is the same text. */
    private static Map<String, NowJson> now(Map<Channel, MachineView.Now> values) {
        Map<String, NowJson> sorted = new LinkedHashMap<>();
        if (!values.isEmpty()) {
            new EnumMap<>(values)
                    .forEach((channel, now) -> sorted.put(
                            channel.code(),
                            new NowJson(now.at(), Rounded.to3(now.value()), now.text(), channel.unit())));
        }
        return sorted;
    }

    private static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT);
    }
}
