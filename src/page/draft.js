/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draft.js: what the browser keeps between two visits. Pages opened from files share one storage, so
 * a draft holds neither the coach's name nor notes, unless the user asks for that. */

const DRAFT_KEY = 'rigbudget.draft';
const SETTINGS_KEY = 'rigbudget.settings';

/* Storage may be missing, full or refused: each call says whether it worked. */
function readStored(key) {
	try {
		return JSON.parse(localStorage.getItem(key));
	} catch {
		return null;
	}
}

function writeStored(key, value) {
	try {
		localStorage.setItem(key, JSON.stringify(value));
		return true;
	} catch {
		return false;
	}
}

function forgetStored(key) {
	try {
		localStorage.removeItem(key);
		return true;
	} catch {
		return false;
	}
}

function storageWorks() {
	const key = 'rigbudget.try';
	return writeStored(key, 1) && readStored(key) === 1 && forgetStored(key);
}

/* The coach without what could tell whose it is. */
function withoutNames(data) {
	const strip = (value) => {
		if (Array.isArray(value)) return value.map(strip);
		if (value === null || typeof value !== 'object') return value;
		return Object.fromEntries(Object.entries(value)
			.filter(([key]) => key !== 'notes' && key !== 'note').map(([key, inner]) => [key, strip(inner)]));
	};
	const bare = strip(data);
	if (bare && typeof bare.name === 'string') bare.name = 'Our coach';
	return bare;
}

function saveDraft(history, settings) {
	const kept = settings.keepNames ? history.data : withoutNames(history.data);
	/* files are not kept: they are large, and at hand */
	const { inspector, weather, parts, ...options } = settings.options;
	if (settings.keepNames && inspector !== undefined) options.inspector = inspector;
	return writeStored(DRAFT_KEY, { file: JSON.stringify(kept), options });
}

function readDraft() {
	const draft = readStored(DRAFT_KEY);
	return draft && typeof draft.file === 'string' ? draft : null;
}
