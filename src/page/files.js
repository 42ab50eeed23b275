/* SPDX-License-Identifier: GPL-3.0-or-later */
/* files.js: rig files in and out, the sheet to share and to print. A file that was opened and not
 * changed is saved with its very bytes. */

const MOST_BYTES = 4 * 1024 * 1024;

/* The text of a file, a mark at its start included; null where it is not UTF-8. */
async function textOfFile(file) {
	try {
		return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer());
	} catch {
		return null;
	}
}

function askForFile() {
	pickFile('.json,application/json', openFile);
}

function pickFile(accept, take) {
	const input = make('input', { type: 'file', accept, class: 'unseen', 'aria-label': 'File', tabindex: '-1',
		onchange: () => {
			if (input.files[0]) take(input.files[0]);
			input.remove();
		} });
	document.body.append(input);
	input.click();
}

async function openFile(file) {
	if (file.size > MOST_BYTES) {
		refuseFile(file, [{ text: 'It is larger than the 4 MiB that a rig file may have.' }], null);
		return;
	}
	const text = await textOfFile(file);
	if (text === null) {
		refuseFile(file, [{ text: 'It is not text in UTF-8, as a rig file is.' }], null);
		return;
	}
	const checked = await page.quick.ask({ do: 'check', file: text });
	if (checked.ok) takeFile(text, file.name);
	else refuseFile(file, checked.faults, text);
}

function takeFile(text, name) {
	page.history.open(text, `opened ${name}`);
	page.fileName = name;
	page.isDemo = false;
	dismiss('demo');
	dismiss('draft');
	notify('opened', `Opened ${name}. What was here before is one Undo away.`, [['Undo', () => page.undo()]]);
}

/* Nothing is lost: the coach in hand stays. What can be read may be opened, to mend it here. */
function refuseFile(file, faults, text) {
	let isObject = false;
	try {
		const data = JSON.parse(text.replace(/^\uFEFF/, ''));
		isObject = data !== null && typeof data === 'object' && !Array.isArray(data);
	} catch { /* not JSON: there is nothing to mend in a form */ }
	const dialog = openDialog('This file was not opened',
		make('p', {}, make('bdi', {}, file.name), ' has faults. The coach that you had is untouched.'),
		faultList(faults, true), faultyLine(faults[0], text),
		isObject ? make('div', { class: 'actions' }, button('Open it all the same, to mend it here', () => {
			dialog.close();
			takeFile(text, file.name);
		})) : null);
}

/* The line of the first fault, and where in it. */
function faultyLine(fault, text) {
	if (!fault || !(fault.line > 0) || text === null) return null;
	const line = text.split('\n')[fault.line - 1] || '';
	const characters = [...line];
	const from = Math.max(0, fault.column - 1 - 40);
	const before = characters.slice(from, fault.column - 1).join('');
	const after = characters.slice(fault.column - 1, fault.column - 1 + 60).join('');
	return make('pre', { class: 'faulty-line', dir: 'ltr', tabindex: '0', 'aria-label': `Line ${fault.line}` }, before, make('mark', {}, after.slice(0, 1) || ' '), after.slice(1));
}

function slug(words) {
	const bare = String(words || '').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '');
	return [...bare].slice(0, 60).join('') || 'coach';
}

/* The bytes to save: those opened, or the core's canonical text; null where the core refuses. */
async function textToSave() {
	if (page.history.isAsOpened) return page.history.text;
	const written = await page.quick.ask({ do: 'write', file: page.history.text });
	return written.ok ? written.text : null;
}

function rigFileName() {
	return page.fileName && /\.json$/i.test(page.fileName) ? page.fileName : `${slug(page.history.data.name)}.rig.json`;
}

function download(text, name, type) {
	const url = URL.createObjectURL(new Blob([text], { type }));
	const link = make('a', { href: url, download: name });
	document.body.append(link);
	link.click();
	link.remove();
	setTimeout(() => URL.revokeObjectURL(url), 10000);
}

async function saveFile() {
	const text = await textToSave();
	if (text === null) {
		offerUnfinished();
		return;
	}
	download(text, rigFileName(), 'application/json');
	page.saved = page.history.state;
	notify('saved', `Saved as ${rigFileName()}, among your downloads.`);
}

function offerUnfinished() {
	notify('unfinished', 'The coach has faults, so another program would refuse the file. They are marked in the form.',
		[['Save it as it stands', () => {
			download(`${JSON.stringify(page.history.data, null, 2)}\n`, rigFileName(), 'application/json');
			page.saved = page.history.state;
		}]]);
}

function shareDialog() {
	const dialog = openDialog('Share', make('p', {}, 'The sheet is a web page that anybody can read and print. The rig file is for somebody who works on with it.'),
		make('div', { class: 'actions' },
			button('The finding sheet', () => { dialog.close(); shareSheet(); }, { class: 'main' }),
			button('The rig file', () => { dialog.close(); shareRig(); })));
}

async function shareSheet() {
	const request = page.answers.request('report', page.history.text);
	const made = await page.slow.ask({ do: 'whole', question: 'report', file: request.file, options: request.options, format: 'html' });
	if (made.ok) await shareText(made.text, `${slug(page.history.data.name)}.html`, 'text/html');
	else openDialog('There is no sheet yet', faultList(made.faults, false));
}

async function shareRig() {
	const text = await textToSave();
	if (text === null) offerUnfinished();
	else await shareText(text, rigFileName(), 'application/json');
}

/* By the device's own way of sharing, where it takes such a file; else as a download. */
async function shareText(text, name, type) {
	const file = new File([text], name, { type });
	try {
		if (navigator.canShare && navigator.canShare({ files: [file] })) {
			await navigator.share({ files: [file], title: name });
			return;
		}
	} catch (failure) {
		if (failure.name === 'AbortError') return;
	}
	download(text, name, type);
	notify('shared', `Saved as ${name}, to send on.`);
}

/* The sheet of the coach as it stands goes onto paper, not the page around it. */
async function printSheet() {
	const response = await page.answers.of('report');
	if (!response.ok) {
		openDialog('There is nothing to print yet', faultList(response.faults, false));
		return;
	}
	refill(byId('print'), sheetElements(response.html, 'p-'));
	page.isPrinting = true;
	window.print();
}

/* Printing from the browser's own menu: the last sheet, which says if it is older. */
function beforePrint() {
	if (page.isPrinting) return;
	const got = page.answers && page.answers.got.get('report');
	if (!got || !got.response.ok) {
		refill(byId('print'), make('p', {}, 'The finding sheet is not worked out yet.'));
		return;
	}
	refill(byId('print'), page.answers.isOlder('report') ? make('p', { class: 'caution' }, 'This sheet is older than the coach: changes have been made since.') : null,
		sheetElements(got.response.html, 'p-'));
}

function afterPrint() {
	page.isPrinting = false;
	refill(byId('print'));
}
