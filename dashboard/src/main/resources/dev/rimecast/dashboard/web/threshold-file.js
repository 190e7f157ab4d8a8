// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { changeList } from './threshold-differences.js';
import { bench } from './thresholds-api.js';

/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */
/** @typedef {import('./thresholds-api.js').FileRead} FileRead */

/** As the server has it. */
const LONGEST = 64 * 1024;

let text = '';
let busy = false;
let problem = '';
/** @type {{line: number, key: string, what: string}[]} */
let wrong = [];
/** @type {FileRead | null} */
let read = null;

/** @param {string} given @param {(read: FileRead) => void} take @param {() => void} draw */
async function compare(given, take, draw) {
  text = given;
  [busy, problem, wrong, read] = [true, '', [], null];
  draw();
  try {
    if (text.length > LONGEST) throw new Error(words.fileTooLarge);
    read = await bench.file({ text });
    take(read);
  } catch (e) {
    problem = /** @type {Error} */ (e).message;
    wrong = /** @type {any} */ (e).problem?.problems ?? [];
  }
  busy = false;
  draw();
}

/** @param {FileRead} r @param {PolicyNumber[]} numbers */
const readParts = (r, numbers) => html`
  <p><b>${words.fileRead(r.name, r.ofAll.length)}</b></p>
  ${r.ofGroups.length ? html`<p class="mind">${words.fileGroups}</p>${changeList(r.ofGroups, numbers)}` : nothing}`;

/**
 * A policy that somebody has as a file, such as tune writes.
 * @param {PolicyNumber[]} numbers @param {(read: FileRead) => void} take its differences become the changes @param {() => void} draw
 */
export const fileParts = (numbers, take, draw) => html`
  <details class="panel fold" id="file"><summary>${words.file}</summary><p class="hint">${words.fileHint}</p>
    <form class="filter policy-file" @submit=${(/** @type {any} */ e) => { e.preventDefault(); compare(e.target.elements.text.value, take, draw); }}>
      <label>${words.fileChoose}<input type="file" name="file" accept=".yaml,.yml,text/yaml" @change=${async (/** @type {any} */ e) => {
        const file = e.target.files[0];
        if (!file) return;
        await compare(file.size > 4 * LONGEST ? ' '.repeat(LONGEST + 1) : await file.text(), take, draw);
        e.target.value = '';
      }}></label>
      <label class="pasted">${words.filePaste}<textarea name="text" rows="6" spellcheck="false" required .value=${text.length > LONGEST ? '' : text}></textarea></label>
      <button ?disabled=${busy}>${words.fileCompare}</button></form>
    ${problem ? html`<div role="alert"><p class="told">${problem}</p>
      ${wrong.length ? html`<ul class="checks">${wrong.map((p) => html`<li>${p.line ? `${words.atLine(p.line)}: ` : ''}${p.key ? html`<code>${p.key}</code> ` : nothing}${p.what}</li>`)}</ul>` : nothing}</div>` : nothing}
    ${read ? html`<div role="status">${readParts(read, numbers)}</div>` : nothing}</details>`;
