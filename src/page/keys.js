/* SPDX-License-Identifier: GPL-3.0-or-later */
/* keys.js: the core's table of keys, which the forms are made from, and walks along it. */

class Keys {
	constructor(objects) {
		this.objects = new Map(objects.map((object) => [object.name, object]));
		this.coach = objects[0];
	}

	object(name) {
		return this.objects.get(name);
	}

	/* The row of a key of an object, whichever of its names is given. */
	row(object, name) {
		return this.object(object).keys.find((row) => row.names.includes(name));
	}

	/* Calls visit(row, value, path) for each key that the data has; visit may give a new value. */
	walk(data, visit) {
		const inObject = (object, value, path) => {
			if (value === null || typeof value !== 'object') return value;
			let copy = value;
			for (const row of this.object(object).keys)
				for (const name of row.names) {
					if (!Object.hasOwn(copy, name)) continue;
					const inner = inValue(row, copy[name], [...path, name]);
					if (inner !== copy[name]) copy = withValue(copy, [name], inner);
				}
			return copy;
		};
		const inValue = (row, value, path) => {
			if (row.kind === 'object') return inObject(row.object, value, path);
			if (row.kind === 'list' && Array.isArray(value)) {
				const items = value.map((item, i) => inObject(row.object, item, [...path, i]))
					.map((item, i) => visit(row, item, [...path, i], true))
					.filter((item) => item !== undefined);
				return items.length === value.length && items.every((item, i) => item === value[i]) ? value : items;
			}
			return visit(row, value, path, false);
		};
		return inObject(this.coach.name, data, []);
	}

	/* The data with every reference to one id made another, or taken out where to is undefined. An
	 * item of a list that cannot do without the reference goes with it. */
	withReferences(data, target, from, to) {
		const needs = (row) => row.required && row.kind === 'reference';
		const lost = new Set();
		const changed = this.walk(data, (row, value, path, isItem) => {
			if (isItem) return lost.has(pathWords(path)) ? undefined : value;
			if (row.target !== target) return value;
			if (row.kind === 'reference' && value === from) {
				if (to === undefined && needs(row)) lost.add(pathWords(path.slice(0, -1)));
				return to;
			}
			if (row.kind === 'references' && Array.isArray(value) && value.includes(from))
				return value.map((id) => (id === from ? to : id)).filter((id) => id !== undefined);
			return value;
		});
		return changed;
	}

	/* The ids in a list of the file, as [id, words]. */
	idsOf(data, target) {
		const items = valueAt(data, [target]);
		if (!Array.isArray(items)) return [];
		return items.filter((item) => item && typeof item.id === 'string')
			.map((item) => [item.id, nameOf(item)]);
	}
}

/* The list of the file that holds objects of a kind which references name. */
const LIST_OF = { load: 'loads', circuit: 'circuits', bank: 'banks', array: 'solar' };

function nameOf(item) {
	return typeof item.name === 'string' && item.name.trim() !== '' ? item.name : String(item.id || 'without a name');
}

/* The first of base, base-2, base-3, ... that no item has. */
function freeId(items, base) {
	const taken = new Set((items || []).map((item) => item && item.id));
	for (let i = 1; ; i++) {
		const id = i === 1 ? base : `${base}-${i}`;
		if (!taken.has(id)) return id;
	}
}
