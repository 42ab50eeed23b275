/* SPDX-License-Identifier: GPL-3.0-or-later */
/* form.js: the full form: every key of the file, object by object, made from the core's table. */

/* What most people fill in, in the order in which they look at it; the rest stands behind. */
const FIRST_KEYS = {
	shore: ['cord_a', 'cord_length_m', 'adapter_length_m', 'pedestal_open_v'],
	circuit: ['name', 'supply', 'leg', 'breaker_a', 'bank', 'awg', 'inverter'],
	load: ['name', 'profile', 'count', 'circuit', 'running_w', 'running_a', 'daily_use_h', 'from_hour', 'to_hour', 'priority'],
	bank: ['name', 'role', 'chemistry', 'capacity_ah', 'nominal_v', 'series', 'parallel', 'age_years'],
	array: ['name', 'bank', 'count', 'watts_w', 'length_m', 'width_m', 'panel', 'controller', 'shade_frac'],
	inverter: ['name', 'bank', 'watts_w', 'idle_w', 'always_on'],
	charger: ['name', 'bank', 'circuit', 'amps_a'],
	dc_charger: ['name', 'bank', 'amps_a', 'drive_h'],
	generator: ['name', 'fuel', 'watts_w', 'auto_start', 'quiet_from_hour', 'quiet_to_hour'],
	energy_management: ['name', 'limit_a', 'order'],
	body: ['length_m', 'heat_to_c', 'cool_to_c'],
	wire: ['name', 'circuit', 'awg', 'length_m', 'amps_a', 'fuse_a'],
	reading: ['name', 'on', 'breakers', 'leg1_a', 'leg2_a', 'volts_v', 'bank_a', 'array_a', 'charger'],
};

/* The places of the form that stand open, by path, over redrawing. */
const openPlaces = new Set();

function foldout(key, words, build, attributes) {
	const body = make('div', { class: 'fold-body' });
	const fold = make('details', { class: 'fold', ...attributes }, make('summary', {}, words), body);
	const grow = () => {
		if (fold.open && body.childNodes.length === 0) fill(body, build());
		if (fold.open) openPlaces.add(key);
		else openPlaces.delete(key);
	};
	if (openPlaces.has(key)) {
		fold.open = true;
		fill(body, build());
	}
	fold.addEventListener('toggle', grow);
	return fold;
}

/* The fields of one object. */
function objectForm(objectName, at) {
	const object = page.keys.object(objectName);
	const first = FIRST_KEYS[objectName] || object.keys.map((row) => row.name);
	const given = valueAt(page.history.data, at) || {};
	const isFirst = (row) => first.includes(row.name) || row.required || row.names.some((name) => Object.hasOwn(given, name));
	const place = (row) => (first.indexOf(row.name) + 100) % 100;
	const front = object.keys.filter((row) => isFirst(row)).sort((a, b) => place(a) - place(b));
	const back = object.keys.filter((row) => !isFirst(row));
	const draw = (row) => {
		if (row.kind === 'list') return listForm(row, [...at, row.name]);
		if (row.kind === 'object') return partForm(row, [...at, row.name]);
		return fieldFor(row, at, objectName);
	};
	return make('div', { class: 'object' }, make('div', { class: 'fields' }, front.map(draw)),
		back.length === 0 ? null : foldout(`${pathWords(at)}+`, `${back.length} further details`,
			() => make('div', { class: 'fields' }, back.map(draw)), { class: 'fold further' }));
}

/* An object that may be there or not, such as the inverter. */
function partForm(row, at) {
	const isThere = valueAt(page.history.data, at) !== undefined;
	const what = page.keys.object(row.object);
	if (!isThere)
		return make('div', { class: 'absent' }, make('p', {}, `${capital(row.what)}: not in the file.`),
			button(`Add ${articled(row)}`, () => page.restructure(withValue(page.history.data, at, startOf(what)), `added ${row.name}`)));
	return make('div', {}, make('p', { class: 'lead' }, `${capital(row.what)}.`), objectForm(row.object, at),
		row.required ? null : button(`Remove ${articled(row)}`, () => page.restructure(withValue(page.history.data, at, undefined), `removed ${row.name}`), { class: 'plain' }));
}

function articled(row) {
	return `the ${row.name.replace(/_/g, ' ')}`;
}

/* A new object with what it must have, as far as the table or the file offers it. */
function startOf(object, items) {
	const made = {};
	for (const row of object.keys) {
		if (row.kind === 'id') made.id = freeId(items, object.name);
		else if (row.required && row.kind === 'reference') {
			const choices = page.lists[row.target] || page.keys.idsOf(page.history.data, row.target);
			if (choices.length > 0) made[row.name] = choices[0][0];
		} else if (row.required && row.kind === 'references') made[row.name] = [];
		else if (row.required && row.kind === 'text') made[row.name] = `New ${object.name}`;
		else if (row.required && row.kind === 'number') made[row.name] = Number(row.choices[0]);
		else if (row.required && row.kind === 'figure') made[row.name] = JSON.parse(row.example || String(row.low));
	}
	return made;
}

/* A list of objects, each folded up. */
function listForm(row, at) {
	const items = valueAt(page.history.data, at);
	const list = Array.isArray(items) ? items : [];
	const object = page.keys.object(row.object);
	const one = object.name.replace(/_/g, ' ');
	return make('div', { class: 'list' }, make('p', { class: 'lead' }, `${capital(row.what)}.`),
		list.map((item, i) => itemForm(row, [...at, i], item)),
		button(`Add a ${one}`, () => {
			const started = startOf(object, list);
			openPlaces.add(pathWords([...at, list.length]));
			page.restructure(withValue(page.history.data, at, [...list, started]), `added a ${one}`, [...at, list.length]);
		}));
}

function itemForm(row, at, item) {
	const words = item && typeof item === 'object' ? itemWords(row.object, item, at) : 'not readable';
	return foldout(pathWords(at), make('span', { dir: 'auto' }, words), () => [
		objectForm(row.object, at),
		make('div', { class: 'actions' },
			button('Copy it', () => copyItem(row, at)),
			button('Remove it', () => removeItem(row, at), { class: 'plain' })),
	]);
}

function itemWords(objectName, item, at) {
	if (objectName === 'use') return String(item.load);
	if (item.name || item.id) return nameOf(item);
	return `${capital(objectName)} ${at[at.length - 1] + 1}`;
}

function copyItem(row, at) {
	const list = valueAt(page.history.data, at.slice(0, -1));
	const item = list[at[at.length - 1]];
	const copy = typeof item.id === 'string' ? { ...item, id: freeId(list, item.id) } : item;
	page.restructure(withValue(page.history.data, at.slice(0, -1), [...list, copy]), 'copied', [...at.slice(0, -1), list.length]);
}

/* What names the item by its id lets go of it. */
function removeItem(row, at) {
	const item = valueAt(page.history.data, at);
	const target = LIST_OF[row.object];
	let data = withValue(page.history.data, at, undefined);
	if (target && item && typeof item.id === 'string') data = page.keys.withReferences(data, target, item.id, undefined);
	openPlaces.delete(pathWords(at));
	page.restructure(data, `removed ${item && typeof item === 'object' ? nameOf(item) : 'an item'}`, at.slice(0, -1));
	notify('removed', `Removed ${item && typeof item === 'object' ? nameOf(item) : 'it'}.`, [['Undo', () => page.undo()]]);
}

/* Every key of the file. */
function drawEverything(view) {
	const rows = page.keys.coach.keys.filter((row) => row.kind !== 'format' && row.name !== '$schema');
	const plain = rows.filter((row) => row.kind !== 'object' && row.kind !== 'list');
	refill(view, make('h2', {}, 'Everything in the file'),
		make('p', { class: 'lead' }, 'What is left empty is filled from tables or by rules, and the answers then say so.'),
		make('div', { class: 'fields' }, plain.map((row) => fieldFor(row, [], page.keys.coach.name))),
		rows.filter((row) => row.kind === 'object' || row.kind === 'list').map((row) => {
			const at = [row.name];
			const value = valueAt(page.history.data, at);
			const state = Array.isArray(value) ? `${value.length}` : (value === undefined ? 'none' : 'stated');
			return foldout(pathWords(at), [make('strong', {}, capital(row.name.replace(/_/g, ' '))), make('span', { class: 'count' }, state)],
				() => (row.kind === 'list' ? listForm(row, at) : partForm(row, at)), { class: 'fold section' });
		}));
}
