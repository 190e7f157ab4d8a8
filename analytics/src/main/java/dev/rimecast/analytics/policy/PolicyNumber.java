package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.yaml.Range;

/**
 * The numbers of a policy that belong to no single feature. Values, units and what moves when one changes stand in
 * {@code policy.yaml}; here is only where each is found and what it may be.
 */
public enum PolicyNumber implements Threshold {
    CONDENSING_LIMIT_CELSIUS("limits", "condensing_celsius", Range.of(30, 120)),
    CONDENSING_HYSTERESIS_KELVIN("limits", "condensing_hysteresis_kelvin", Range.of(0, 20)),
    PULL_DOWN_LIMIT_SECONDS("limits", "pull_down_seconds", Range.of(60, 7200)),
    DRAIN_LEVEL_LIMIT_SECONDS("limits", "drain_level_seconds", Range.of(0.5, 600)),
    DRAIN_RUN_ON_SECONDS("limits", "drain_run_on_seconds", Range.of(0, 600)),
    SHORT_PULL_DOWN_SHARE("limits", "left_ice_pull_down_share", Range.of(0, 1)),

    MACHINE_SILENT_MINUTES("delays", "machine_silent_minutes", Range.of(2, 10_080)),
    GATEWAY_SILENT_MINUTES("delays", "gateway_silent_minutes", Range.of(2, 10_080)),
    GATEWAY_SILENT_SERIOUS_MINUTES("delays", "gateway_silent_serious_minutes", Range.of(2, 43_200)),
    STOPPED_MINUTES("delays", "stopped_minutes", Range.of(0, 1440)),
    CLEANING_MINUTES("delays", "cleaning_minutes", Range.of(10, 2880)),
    FILL_MINUTES("delays", "fill_minutes", Range.of(2, 1440)),
    NOT_MAKING_ICE_MINUTES("delays", "not_making_ice_minutes", Range.of(30, 2880)),
    PLACE_MINUTES("delays", "place_minutes", Range.of(1, 2880)),
    PLACE_CLEAR_MINUTES("delays", "place_clear_minutes", Range.of(1, 10_080)),
    COMES_AGAIN_MINUTES("delays", "comes_again_minutes", Range.of(0, 43_200)),
    QUIET_MINUTES("delays", "quiet_minutes", Range.of(0, 43_200)),

    EVAPORATOR_MIN_CELSIUS("sensors", "evaporator_min_celsius", Range.of(-100, 0)),
    EVAPORATOR_MAX_CELSIUS("sensors", "evaporator_max_celsius", Range.of(30, 200)),
    CONDENSER_MIN_CELSIUS("sensors", "condenser_min_celsius", Range.of(-100, 0)),
    CONDENSER_MAX_CELSIUS("sensors", "condenser_max_celsius", Range.of(80, 300)),
    AMBIENT_MIN_CELSIUS("sensors", "ambient_min_celsius", Range.of(-100, 0)),
    AMBIENT_MAX_CELSIUS("sensors", "ambient_max_celsius", Range.of(40, 150)),
    WATER_MIN_CELSIUS("sensors", "water_min_celsius", Range.of(-50, 5)),
    WATER_MAX_CELSIUS("sensors", "water_max_celsius", Range.of(35, 150)),
    SENSOR_BAD_MINUTES("sensors", "bad_minutes", Range.of(0, 1440)),
    SENSOR_STUCK_MINUTES("sensors", "stuck_minutes", Range.of(10, 2880)),
    REST_DIFFERENCE_KELVIN("sensors", "rest_difference_kelvin", Range.of(1, 40)),
    REST_SHIFT_KELVIN("sensors", "rest_shift_kelvin", Range.of(0.5, 40)),

    HABIT_DAYS("making", "habit_days", Range.of(1, 42)),
    UNKNOWN_HABIT_HOURS("making", "unknown_habit_hours", Range.of(12, 336)),
    HABIT_FACTOR("making", "habit_factor", Range.of(1, 10)),
    REST_HOURS("making", "rest_hours", Range.of(2, 168)),
    UNTOUCHED_BIN_HOURS("making", "untouched_bin_hours", Range.of(12, 336)),
    WARM_PLATE_HOURS("making", "warm_plate_hours", Range.of(1, 72)),
    REST_AFTER_CLEANING_HOURS("making", "rest_after_cleaning_hours", Range.of(2, 168)),
    REST_AFTER_CLEANING_FACTOR("making", "rest_after_cleaning_factor", Range.of(1, 5)),
    OFF_HOURS("making", "off_hours", Range.of(1, 168)),
    CALLED_HOURS("making", "called_hours", Range.of(0.5, 240)),
    CALL_MINUTES("making", "call_minutes", Range.of(5, 1440)),
    RUN_FACTOR("making", "run_factor", Range.of(1, 10)),
    RUN_BINS("making", "run_bins", Range.of(0.5, 20)),
    COLD_CONDENSER_MINUTES("making", "cold_condenser_minutes", Range.of(4, 60)),
    WAIT_MARGIN_MINUTES("making", "wait_margin_minutes", Range.of(1, 240)),
    WAITS("making", "waits", Range.of(1, 20)),
    LONG_WAIT_MINUTES("making", "long_wait_minutes", Range.of(1, 1440)),
    RESTARTS_A_DAY("making", "restarts_a_day", Range.of(2, 6)),
    RESTARTS_SPAN_MINUTES("making", "restarts_span_minutes", Range.of(0, 1440)),

    CLEANING_DAYS("care", "cleaning_days", Range.of(1, 3650)),
    CLEANING_CYCLES("care", "cleaning_cycles", Range.of(10, 1_000_000)),
    AIR_FILTER_DAYS("care", "air_filter_days", Range.of(1, 3650)),
    CLEAN_CONDENSER_FACTOR("care", "clean_condenser_factor", Range.of(1, 10)),
    AIR_FILTER_CYCLES("care", "air_filter_cycles", Range.of(10, 1_000_000)),
    WATER_FILTER_LITRES("care", "water_filter_litres", Range.of(10, 10_000_000)),
    DRIFT_SHARE("care", "drift_share", Range.of(0.1, 10)),
    DRIFT_DAYS("care", "drift_days", Range.of(0, 60)),
    WATER_FILTER_DAYS("care", "water_filter_days", Range.of(1, 3650)),
    LAMP_DAYS("care", "lamp_days", Range.of(1, 3650)),
    DESCALING_DAYS("care", "descaling_days", Range.of(1, 3650)),
    DESCALING_CYCLES("care", "descaling_cycles", Range.of(10, 1_000_000)),
    WATER_FILTER_CYCLES("care", "water_filter_cycles", Range.of(10, 1_000_000)),
    IDLE_DAYS("care", "idle_days", Range.of(1, 365)),
    IDLE_BATCHES("care", "idle_batches", Range.of(1, 1000)),

    USABLE_CYCLES("expectation", "usable_cycles", Range.of(5, 500)),
    SETTLED_CYCLES("expectation", "settled_cycles", Range.of(20, 100_000)),
    CORRELATED_CYCLES("expectation", "correlated_cycles", Range.of(1, 50)),
    EXCLUDED_CYCLES("expectation", "excluded_cycles", Range.of(0, 10)),
    REST_MINUTES("expectation", "rest_minutes", Range.of(1, 1440)),
    OUTLIER_AT("expectation", "outlier_at", Range.of(1, 10)),
    PLACE_SENSOR_SPREAD_KELVIN("expectation", "place_sensor_spread_kelvin", Range.of(0, 10)),
    AMBIENT_ESTIMATE_SPREAD_KELVIN("expectation", "ambient_estimate_spread_kelvin", Range.of(0, 20)),
    REST_HOLDS_MINUTES("expectation", "rest_holds_minutes", Range.of(0, 600)),
    ROOM_WANDER_KELVIN("expectation", "room_wander_kelvin", Range.above(0)),
    AMBIENT_UNKNOWN_SPREAD_KELVIN("expectation", "ambient_unknown_spread_kelvin", Range.of(0, 30)),
    WATER_UNKNOWN_SPREAD_KELVIN("expectation", "water_unknown_spread_kelvin", Range.of(0, 30)),
    WATER_SEASON_KELVIN("expectation", "water_season_kelvin", Range.of(0, 20)),
    WATER_SEASON_PEAK_DAY("expectation", "water_season_peak_day", Range.of(1, 366)),

    FALSE_ALARMS_PER_YEAR("change", "false_alarms_per_machine_year", Range.of(0.001, 100)),
    BLOCK_HOURS("change", "block_hours", Range.of(1, 24)),
    REFERENCE("change", "reference", Range.of(0.1, 3)),
    EWMA_WEIGHT("change", "ewma_weight", Range.of(0.005, 1)),
    EWMA_SHARE("change", "ewma_share", Range.of(0.01, 0.99)),
    STEP_REFERENCE("change", "step_reference", Range.of(0.5, 6)),
    AUTOCORRELATION("change", "autocorrelation", Range.of(0, 0.95)),
    HOLD_LEARNING_AT("change", "hold_learning_at", Range.of(0.05, 1)),
    BEYOND_UNSURE("change", "beyond_unsure", Range.of(0, 10)),
    OWN_SCATTER("change", "own_scatter", Range.of(1, 20)),
    LEAST_MATERIAL_SHARE("change", "least_material_share", Range.of(0.05, 1)),
    TOGETHER_SHARE("change", "together_share", Range.of(0.1, 1)),
    CLEAR_SHARE("change", "clear_share", Range.of(0.05, 0.95)),
    CLEAR_CYCLES("change", "clear_cycles", Range.of(1, 12)),
    CLEAR_CYCLES_AFTER_WORK("change", "clear_cycles_after_work", Range.of(1, 12)),
    CLEAR_HOURS("change", "clear_hours", Range.of(0, 720)),
    TREND_PROBABILITY("change", "trend_probability", Range.of(0.0001, 0.5)),

    KIND_CYCLES("kind", "cycles", Range.of(20, 5000)),
    KIND_SIGMAS("kind", "sigmas", Range.of(1, 20)),
    KIND_MACHINE_SHARE("kind", "machine_share", Range.of(0.05, 1)),

    PROOF_CERTAINTY("proof", "certainty", Range.of(0.8, 0.9999)),
    PROOF_LEFT_SHARE("proof", "left_share", Range.of(0.1, 1)),

    ACCEPTANCE_CYCLES("acceptance", "cycles", Range.of(3, 200)),
    ACCEPTANCE_SIGMAS("acceptance", "kind_sigmas", Range.of(0.5, 6)),
    LEAST_YIELD_SHARE("acceptance", "least_yield_share", Range.of(0.1, 1)),

    HORIZON_DAYS("forecast", "horizon_days", Range.of(1, 365)),
    HIGH_DAYS("forecast", "high_days", Range.of(0, 365)),
    MEDIUM_DAYS("forecast", "medium_days", Range.of(0, 365)),
    UPDATE_DAYS("forecast", "update_days", Range.of(0, 60)),
    UPDATE_SHARE("forecast", "update_share", Range.of(0, 1));

    private final String section;
    private final String key;
    private final Range range;

    PolicyNumber(String section, String key, Range range) {
        this.section = section;
        this.key = key;
        this.range = range;
    }

    /** The mapping it stands in. */
    public String section() {
        return section;
    }

    public String key() {
        return key;
    }

    public Range range() {
        return range;
    }
}
