// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { ask } from './ask.js';
import { newId } from './new-id.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { plusDays, todayIn } from './visit-parts.js';

/** @typedef {import('./api.js').NewVisitEffect} NewVisitEffect */

/** @param {NewVisitEffect | null} effect @param {string} failed */
function effectText(effect, failed) {
  if (failed) return html`<p class="warmly">${failed}</p>`;
  if (!effect) return nothing;
  if (effect.refused) return html`<p class="warmly">${prose(effect.refused)}</p>`;
  const lines = (/** @type {string[]} */ all) => html`<ul>${all.map((each) => html`<li>${prose(each)}</li>`)}</ul>`;
  return html`
    ${effect.warnings.map((w) => html`<p class="warmly">${prose(w)}</p>`)}
    ${effect.ice ? html`<p><b>${t.visits.ice}:</b> ${prose(effect.ice)}</p>` : nothing}
    ${effect.joins.length ? html`<p>${t.visits.joins}</p>${lines(effect.joins)}` : html`<p>${t.visits.joinsNothing}</p>`}
    ${effect.apart.length ? html`<p>${t.visits.apart}</p>${lines(effect.apart)}` : nothing}`;
}

/**
 * Asks for a visit by hand, and says what it means for the plan before anybody decides.
 * @param {string} site the one to begin with; may be empty @param {import('./api.js').Engineer[]} engineers @param {() => void} changed
 */
export async function askForNew(site, engineers, changed) {
  const [sites, fleet] = await Promise.all([api.sites(), api.fleet()]);
  // the same for as long as the dialog is open: sent twice, it is one visit
  const id = newId();
  const home = site || (sites[0]?.site ?? '');
  const wanted = { site: home, day: plusDays(todayIn(sites.find((s) => s.site === home)?.timeZone), 1), from: '09:00', to: '10:00', engineer: engineers[0]?.name ?? '' };
  /** @type {NewVisitEffect | null} */
  let effect = null;
  let failed = '';
  let asked = 0;

  /** @param {() => void} draw */
  async function look(draw) {
    const number = ++asked;
    const { site: at, ...rest } = wanted;
    if (!at || !rest.day || !rest.from || !rest.to) return;
    try {
      const found = await api.newVisitEffect(at, rest);
      if (number !== asked) return;
      [effect, failed] = [found, ''];
    } catch (e) {
      if (number !== asked) return;
      [effect, failed] = [null, /** @type {Error} */ (e).message];
    }
    draw();
  }

  let first = true;
  /** @param {() => void} draw */
  const fields = (draw) => {
    if (first) {
      first = false;
      look(draw);
    }
    const choose = (/** @type {keyof typeof wanted} */ name) => (/** @type {any} */ e) => {
      wanted[name] = e.target.value;
      // those of another site are others
      if (name === 'site') e.target.form.querySelectorAll('[name=machines]').forEach((/** @type {HTMLInputElement} */ box) => { box.checked = false; });
      // what was told is of what was chosen before
      [effect, failed] = [null, ''];
      draw();
      look(draw);
    };
    const there = fleet.machines.filter((row) => row.site === wanted.site).map((row) => row.machine).sort();
    return html`
      <label>${t.fleet.site}<select name="site" @change=${choose('site')}>${sites.map((s) => html`<option value=${s.site} ?selected=${s.site === wanted.site}>${s.name}</option>`)}</select></label>
      <fieldset class="sites"><legend>${t.visits.machines}</legend>
        ${there.length ? html`<div class="choices across">${there.map((m) => html`<label class="check"><input type="checkbox" name="machines" value=${m}> ${m}</label>`)}</div>` : html`<p class="hint">${t.visits.noMachines}</p>`}</fieldset>
      <label>${t.visits.whatFor}<textarea name="reason" rows="2" maxlength="2000" required></textarea></label>
      <div class="fields"><label>${t.visits.day}<input type="date" name="day" required .value=${wanted.day} @change=${choose('day')}></label>
      <label>${t.visits.fromTime}<input type="time" name="from" required .value=${wanted.from} @change=${choose('from')}></label>
      <label>${t.visits.until}<input type="time" name="to" required .value=${wanted.to} @change=${choose('to')}></label></div>
      <div class="fields uneven"><label>${t.visits.engineer}<select name="engineer" @change=${choose('engineer')}>${engineers.map((e) => html`<option value=${e.name} ?selected=${e.name === wanted.engineer}>${e.name} (${e.days.map((d) => t.visits.days[d]).join(', ')})</option>`)}</select></label>
      <label>${t.visits.job}<input name="job" maxlength="200" autocomplete="off"></label></div>
      <div role="status" class="effect">${effectText(effect, failed)}</div>`;
  };
  ask(t.visits.make, nothing, fields, (data, form) => api.makeVisit({ ...data, id, machines: form.getAll('machines').map(String) }), changed);
}
