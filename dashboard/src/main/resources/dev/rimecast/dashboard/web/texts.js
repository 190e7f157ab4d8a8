// @ts-check
import { commonTexts } from './texts/common.js';
import { fleetTexts } from './texts/fleet.js';
import { alertsTexts } from './texts/alerts.js';
import { machineTexts } from './texts/machine.js';
import { visitsTexts } from './texts/visits.js';
import { systemTexts } from './texts/system.js';
import { peopleTexts } from './texts/people.js';
import { rulesTexts } from './texts/rules.js';

/** Every sentence of the pages, so that they can be read, checked and translated in one place: a file for each part.
 * `texts/why.js` is read by its own page only. */
export const t = {
  ...commonTexts,
  ...fleetTexts,
  ...alertsTexts,
  ...machineTexts,
  ...visitsTexts,
  ...systemTexts,
  ...peopleTexts,
  ...rulesTexts,
};
