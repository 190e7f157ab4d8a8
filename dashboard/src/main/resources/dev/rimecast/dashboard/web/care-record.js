// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { now } from './clock.js';
import { dayText, rough, when } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { eventKinds, word } from './words.js';

/** The alert that says that this care is due. @type {Record<string, string>} */
const dueCondition = { cleaned: 'cleaning-due', 'air-filter-washed': 'air-filter-due', 'water-filter-changed': 'water-filter-due', 'lamp-changed': 'lamp-due' };

/** @param {import('./api.js').Care} care @param {import('./api.js').Machine} machine */
function next(care, machine) {
  const due = machine.openAlerts.find((a) => a.alert.condition === dueCondition[care.event] && !a.alert.clearedAt);
  if (due) return html`<a href="/alerts/${due.alert.id}"><b>${t.care.due}</b></a> ${t.since} ${when(due.alert.raisedAt, dayText)} <span class="hint">${prose(due.alert.summary)}</span>`;
  if (!care.dueAt) return care.everyDays ? t.care.every(care.everyDays) : t.care.ofGroup;
  const left = Date.parse(care.dueAt) - now();
  return html`${left > 0 ? t.care.in(rough(left)) : t.care.past(rough(left))} <span class="hint">(${when(care.dueAt, dayText)}; ${t.care.every(/** @type {number} */ (care.everyDays))})</span>`;
}

/** @param {import('./api.js').Care[]} record @param {import('./api.js').Machine} machine */
export const careRecord = (record, machine) => html`
  <section class="panel" aria-labelledby="care"><h2 id="care">${t.care.title}</h2>
    ${record.length === 0 ? html`<p>${t.care.none}</p>` : html`
    <div class="scroll" tabindex="0" role="region" aria-label=${t.care.table}><table class="care"><thead><tr><th scope="col">${t.care.what}</th><th scope="col">${t.care.last}</th><th scope="col">${t.care.next}</th></tr></thead>
      <tbody>${record.map((c) => html`<tr><th scope="row">${word(eventKinds, c.event)}</th>
        <td>${c.doneAt ? html`${when(c.doneAt, dayText)}<span class="hint">${c.by ? `, ${c.by}` : nothing}${c.job ? `, ${t.events.jobNumber(c.job)}` : nothing}</span>` : t.care.never}</td>
        <td>${next(c, machine)}</td></tr>`)}</tbody></table></div>`}
    <p class="hint">${t.care.hint}</p><p><a href="/care/${machine.machine}">${t.careRecord.whole}</a></p></section>`;
