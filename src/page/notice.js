/* SPDX-License-Identifier: GPL-3.0-or-later */
/* notice.js: what the page says to its user: a line for screen readers, notices that stay until they
 * are put away, faults with their places, dialogs. */

const say = IS_PAGE ? afterStill(350, (words) => { byId('say').textContent = words; }) : null;

/* A notice with buttons [words, action]; the same kind is said once. */
function notify(kind, words, actions = []) {
	dismiss(kind);
	const notice = make('div', { class: 'notice', 'data-kind': kind },
		make('p', {}, words),
		make('div', { class: 'actions' },
			actions.map(([label, act]) => button(label, () => { dismiss(kind); act(); })),
			button('Close', () => dismiss(kind), { class: 'plain' })));
	byId('notices').append(notice);
	say(words);
}

function dismiss(kind) {
	for (const notice of byId('notices').children)
		if (notice.dataset.kind === kind) notice.remove();
}

/* A fault in a sentence or two. The core's own has the line in the text, which is the page's here. */
function faultWords(fault) {
	if (!fault.what) return fault.text;
	return [fault.what, fault.found && `found: ${fault.found}`, fault.allowed && `allowed: ${fault.allowed}`,
		fault.remedy && `to mend: ${fault.remedy}`].filter(Boolean).map((words) => `${/^[a-z]+_/.test(words) ? words : capital(words)}.`).join(' ');
}

/* withLines: the places are lines of a file that the user has, not of the page's own writing. */
function faultList(faults, withLines) {
	const MOST = 12;
	const shown = faults.slice(0, MOST).map((fault) => make('li', {},
		withLines && fault.line > 0 ? make('strong', {}, `Line ${fault.line}, column ${fault.column}: `) : null,
		!withLines && fault.path ? make('code', {}, `${fault.path}`) : null,
		!withLines && fault.path ? ': ' : null,
		faultWords(fault)));
	const rest = faults.length - shown.length;
	return make('ul', { class: 'faults' }, shown,
		rest > 0 ? make('li', {}, `and ${rest} more of the kind`) : null);
}

/* A dialog that Escape, its button or a tap beside it closes. */
function openDialog(title, ...children) {
	const titleId = newId();
	const dialog = make('dialog', { 'aria-labelledby': titleId, class: 'dialog' },
		make('div', { class: 'dialog-head' }, make('h2', { id: titleId }, title),
			button('Close', () => dialog.close(), { class: 'plain' })),
		...children);
	dialog.addEventListener('close', () => dialog.remove());
	dialog.addEventListener('click', (event) => { if (event.target === dialog) dialog.close(); });
	document.body.append(dialog);
	dialog.showModal();
	return dialog;
}

function reportFailure(failure) {
	notify('failure', brokenWords(failure));
}
