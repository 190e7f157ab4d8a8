// @ts-check
import { html } from './lib/lit-html/lit-html.js';

/** Gives a text to the browser as a file. @param {string} name @param {string} text */
function save(name, text) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'text/plain' }));
  link.download = name;
  link.click();
  // the browser has it by then
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** Each with what its button says, the file's name, and its text. @param {[string, string, string][]} files */
export const saveParts = (files) => html`
  <p class="buttons">${files.map(([says, name, text]) => html`<button type="button" class="plain-button" data-save=${name} @click=${() => save(name, text)}>${says}</button>`)}</p>`;
