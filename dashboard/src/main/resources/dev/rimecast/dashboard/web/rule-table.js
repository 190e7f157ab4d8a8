// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { rough } from './format.js';
import { t } from './texts.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').PriorityTable} PriorityTable */
/** @typedef {import('./api.js').PriorityRule} PriorityRule */
/** @typedef {import('./api.js').PriorityGroup} PriorityGroup */

/** @param {string[]} codes @param {Record<string, string>} names */
const list = (codes, names) => codes.map((code) => names[code] ?? code).join(t.rules.or);

/** @param {string} code */
const condition = (code) => word(conditions, code);

/** What must be so for a rule to decide, in words. @param {PriorityRule} rule */
function asks(rule) {
  return [
    rule.ice.length ? list(rule.ice, t.rules.ices) : '',
    rule.withinSeconds ? t.rules.withinIs(rough(rule.withinSeconds * 1000)) : '',
    rule.stages.length ? t.rules.stageIs(list(rule.stages, t.rules.stages)) : '',
    rule.found.length ? t.rules.foundIs(list(rule.found, t.priorities)) : '',
  ].filter(Boolean).join(t.rules.and) || t.rules.always;
}

/** @param {PriorityRule} rule @param {number} i */
const ruleItem = (rule, i) => html`
  <li id="rule-${i + 1}"><p class="words"><b>${rule.words}</b></p>
    <p>${t.rules.when} ${asks(rule)}: ${t.rules.then} <b>${word(t.priorities, rule.priority)}</b>.</p>
    ${rule.conditions.length ? html`<p class="hint">${t.rules.onlyFor} ${rule.conditions.map((code) => html`<span class="tag">${condition(code)}</span> `)}</p>` : nothing}</li>`;

/** @param {import('./api.js').PriorityChange[]} changes */
const cell = (changes) => changes.length === 0 ? html`<span class="hint">${t.rules.asFound}</span>`
  : changes.map((c) => html`<p>${list(c.found, t.priorities)} ${t.rules.becomes} <b>${word(t.priorities, c.priority)}</b> <span class="hint">${t.rules.rule(c.rule)}</span></p>`);

/** @param {PriorityTable} table @param {PriorityGroup} group */
function groupTable(table, group) {
  const columns = [...table.withinSeconds.map((s) => t.rules.within(rough(s * 1000))), t.rules.later];
  return html`
    <section class="alike"><h3>${group.conditions.map(condition).join(', ')}</h3>
      ${group.countsIce ? nothing : html`<p class="hint">${t.rules.noIce}</p>`}
      <div class="sheet" tabindex="0" role="group" aria-label=${group.conditions.map(condition).join(', ')}><table>
        <thead><tr><th scope="col">${t.rules.follows}</th>${columns.map((name) => html`<th scope="col">${name}</th>`)}</tr></thead>
        <tbody>${group.rows.map((row) => html`<tr><th scope="row">${group.countsIce ? html`${t.rules.ices[/** @type {keyof typeof t.rules.ices} */ (row.ice)]}, ` : nothing}${row.stages.length === 3
          ? t.rules.anyStage : list(row.stages, t.rules.stages)}</th>${row.cells.every((changes) => changes.length === 0) ? html`<td colspan=${columns.length}>${cell([])}</td>` : row.cells.map((changes, i) => html`<td data-column=${columns[i]}>${cell(changes)}</td>`)}</tr>`)}</tbody>
      </table></div></section>`;
}

/** The rules in words, and the table that follows from them. @param {PriorityTable} table */
export function tableParts(table) {
  const plain = table.groups.filter((group) => group.rows.length === 0).flatMap((group) => group.conditions);
  return html`
    <section><h2>${t.rules.rules}</h2><p class="hint">${t.rules.rulesHint}</p>
      <ol class="rules">${table.rules.map(ruleItem)}</ol></section>
    <section><h2>${t.rules.table}</h2><p class="hint">${t.rules.tableHint}</p>
      ${table.groups.filter((group) => group.rows.length > 0).map((group) => groupTable(table, group))}
      ${plain.length ? html`<p class="plain"><b>${t.rules.plain}</b> ${plain.map(condition).join(', ')}.</p>` : nothing}</section>`;
}
