// @ts-check
/** Plain words for the codes of the contract. */

/** @type {Record<string, string>} */
export const conditions = {
  'slow-pull-down': 'Cools down too slowly',
  'rising-condensing-temperature': 'Condensing temperature is rising',
  'high-condensing-temperature': 'Condensing temperature is too high',
  'drain-pump-overrun': 'Drain pump runs too long',
  'long-freeze': 'Freezing takes too long',
  'short-freeze': 'Freezing ends too soon',
  'long-harvest': 'Ice comes off too slowly',
  'incomplete-harvest': 'Ice stays on the plate',
  'slow-fill': 'Water fills too slowly',
  'water-use-high': 'Takes too much water',
  'low-output': 'Makes less ice than it should',
  'below-its-kind': 'Weaker than its kind since the first day',
  'not-making-ice': 'Makes no ice',
  'stopped-by-protection': 'Stopped by its own protection',
  'repeated-restarts': 'Keeps being restarted',
  'ambient-out-of-range': 'Room is outside its limits',
  'water-out-of-range': 'Water is outside its limits',
  'sensor-implausible': 'A sensor cannot be believed',
  'bin-full-implausible': 'The bin sensor cannot be believed',
  'machine-silent': 'No readings from the machine',
  'gateway-silent': 'No readings from the site',
  'cleaning-too-long': 'Left in its cleaning mode',
  'cleaning-due': 'Cleaning is due',
  'air-filter-due': 'Air filter wash is due',
  'water-filter-due': 'Water filter change is due',
  'lamp-due': 'Lamp change is due',
  'restart-after-idle': 'Stood unused: clean before use',
};

/** Planned care: reminders, never faults. */
export const careConditions = ['cleaning-due', 'air-filter-due', 'water-filter-due', 'lamp-due', 'restart-after-idle'];

/** @type {Record<string, string>} */
export const causes = {
  'airflow-restricted': 'air cannot get through the condenser',
  'hot-air-recirculating': 'it breathes its own hot air',
  'room-too-hot': 'the room is too hot',
  'room-too-cold': 'the room is too cold',
  'water-supply-low': 'too little water comes in',
  'curtain-misplaced': 'the curtain hangs wrongly',
  'spray-unit-misplaced': 'the spray unit sits wrongly',
  'sump-plug-off': 'the sump plug is off',
  'waste-hose-kinked': 'the waste hose is kinked',
  'left-in-cleaning': 'it was left in its cleaning mode',
  'power-off': 'the power is off',
  'start-delay-set': 'it waits: a start delay is set',
  scale: 'scale on the evaporator',
  'circulation-pump-weak': 'the circulation pump is weak',
  'spray-jets-blocked': 'spray jets are blocked',
  'fan-weak': 'the fan is weak',
  'drain-blocked': 'the drain is blocked',
  'level-probes-fouled': 'the level probes are fouled',
  'fan-failed': 'the fan has failed',
  'inlet-valve-leaking': 'the inlet valve leaks',
  'hot-gas-valve-leaking': 'the hot-gas valve leaks',
  'hot-gas-valve-not-opening': 'the hot-gas valve does not open',
  'dump-valve-leaking': 'the dump valve leaks',
  'drain-pump-failed': 'the drain pump has failed',
  'compressor-weak': 'the compressor is weak',
  'compressor-not-starting': 'the compressor does not start',
  'controller-failed': 'the controller has failed',
  'evaporator-sensor-failed': 'the evaporator sensor has failed',
  'evaporator-sensor-loose': 'the evaporator sensor has come loose',
  'condenser-sensor-failed': 'the condenser sensor has failed',
  'bin-sensor-failed': 'the bin sensor has failed',
  'probes-swapped': 'two probes are swapped',
  'low-charge': 'refrigerant charge is low',
  'refrigerant-restriction': 'the refrigerant circuit is restricted',
  'air-in-circuit-or-overcharged': 'air in the circuit, or too much charge',
  'gateway-link-down': 'the gateway has lost its link',
  'water-loss': 'water is lost: plug, dump valve, curtain or spray unit',
};

/** Whether the cause, put beside the condition, would only say it again. @param {string} condition @param {string} cause */
export const saysTheSame = (condition, cause) => condition === 'cleaning-too-long' && cause === 'left-in-cleaning';

/** @type {Record<string, string>} */
export const origins = {
  site: 'The site can look first, without tools.',
  wear: 'Wear: an engineer, planned.',
  part: 'A part: an engineer, with the part.',
  circuit: 'Refrigerant circuit: a certified person only.',
  link: 'The link to the site.',
};

/** @type {Record<string, string>} */
export const phases = {
  wait: 'waiting to start',
  fill: 'filling with water',
  freeze: 'freezing',
  harvest: 'releasing ice',
  idle: 'resting',
  clean: 'being cleaned',
  stopped: 'stopped',
  reduced: 'running reduced',
  off: 'off',
};

/** @type {Record<string, string>} */
export const channels = {
  evaporator_temperature: 'Evaporator',
  condenser_temperature: 'Condenser',
  ambient_temperature: 'Room air',
  water_temperature: 'Mains water',
  supply_current: 'Current',
  phase: 'Doing',
  controller_status: 'Its own status',
  bin_full: 'Bin full',
  drain_level: 'Drain tank level',
  freeze_time: 'Last freeze',
  harvest_time: 'Last harvest',
  pull_down_time: 'Last pull-down',
  fill_time: 'Last fill',
  drain_level_time: 'Last level signal',
  drain_run_time: 'Last drain run',
  water_volume: 'Water taken',
  ice_mass: 'Ice made',
};

/** @type {Record<string, string>} */
export const quantities = {
  'pull-down': 'Pull-down',
  freeze: 'Freeze',
  harvest: 'Harvest',
  split: 'Split over room air',
  'condensing-temperature': 'Condensing temperature',
  'drain-level': 'Drain level signal',
  'drain-run': 'Drain pump run',
  'evaporator-end': 'Lowest evaporator',
  fill: 'Water fill',
  'water-use': 'Water of a cycle',
  'ice-made': 'Ice of a cycle',
};

/** @type {Record<string, string>} */
export const eventKinds = {
  call: 'Call',
  visit: 'Visit',
  cleaned: 'Cleaned',
  'air-filter-washed': 'Air filter washed',
  'water-filter-changed': 'Water filter changed',
  'lamp-changed': 'Lamp changed',
  'part-replaced': 'Part replaced',
  'sensor-replaced': 'Sensor replaced',
  'controller-replaced': 'Controller replaced',
  moved: 'Machine moved',
  exchanged: 'Machine exchanged',
  'closed-from': 'Closed from now on',
  'closed-to': 'Open again',
  'site-answer': 'The site says',
  'harvest-weighed': 'Harvest weighed, kg',
};

/** What a call is about. @type {Record<string, string>} */
export const complaints = {
  'no-ice': 'no ice',
  'little-ice': 'too little ice',
  'water-in-bin': 'water in the bin',
  'water-on-floor': 'water on the floor',
  noise: 'noise',
  smell: 'a smell',
  'bad-ice': 'bad ice',
};

/** What happened to an alert, in plain words; the API keeps the standard's. @type {Record<string, string>} */
export const deeds = {
  raised: 'found it',
  acknowledged: 'marked it as seen',
  reset: 'released it',
  assigned: 'gave it',
  unassigned: 'gave it to nobody',
  noted: 'wrote',
  'put into another case': 'put it into another case',
  shelved: 'paused it',
  'out-of-service': 'took it out of service',
  'returned to normal': 'says that it is over',
};

/** Why a message, or one record of it, was not taken. @type {Record<string, string>} */
export const rejectReasons = {
  'not-senml': 'no SenML',
  'too-large': 'too large, or nested too deep',
  'too-many-records': 'more than 500 records',
  'must-understand-label': 'a label that must be understood, and is not',
  'bad-base-version': 'a version of SenML that is not supported',
  'no-name': 'no name',
  'bad-name': 'a name that is not machine/channel',
  'no-value': 'no value',
  'several-values': 'more than one value',
  'not-a-number': 'no finite number',
  'wrong-value-type': 'a value of the wrong type for its channel',
  'unknown-channel': 'a channel that is not known',
  'unknown-unit': 'a unit that does not fit the channel',
  fahrenheit: 'degrees Fahrenheit: the gateway has to convert',
  'out-of-range': 'outside what the channel can be',
  'future-time': 'more than 10 minutes ahead of its arrival',
  'unknown-gateway': 'a gateway that is in no register',
  'machine-of-other-gateway': 'a machine that stands behind another gateway',
  'bad-topic': 'a topic that is not the contract’s',
  'bad-number': 'a number of its pack that cannot be read',
  'bad-time': 'from before the year 2000: a clock that was never set',
  'topic-of-other-gateway': 'the topic of another gateway than the one that is connected',
  'bad-presence': 'a presence that is neither online nor offline',
  'key-not-shown': 'the topic of a gateway that has keys, or had, without one of them',
  'too-many-packs': 'more than a gateway may send through a broker; it was not looked into',
};

/**
 * @param {Record<string, string>} words
 * @param {string} code a code without words of its own is shown as it is
 */
export const word = (words, code) => words[code] ?? code.replaceAll('-', ' ').replaceAll('_', ' ');
