/* SPDX-License-Identifier: GPL-3.0-or-later */
/* path.js: places in a rig file, such as ['loads', 3, 'running_w'], and copies with one place
 * changed. What is not on the way to the change is shared with the original. */

function valueAt(data, path) {
	let value = data;
	for (const step of path) {
		if (value === null || typeof value !== 'object') return undefined;
		value = Object.hasOwn(value, step) ? value[step] : undefined;
	}
	return value;
}

/* undefined takes the value out: a key goes, an item of a list closes up. */
function withValue(data, path, value) {
	if (path.length === 0) return value;
	const [step, ...rest] = path;
	if (Array.isArray(data)) {
		const copy = data.slice();
		const inner = withValue(data[step], rest, value);
		if (inner === undefined) copy.splice(step, 1);
		else copy[step] = inner;
		return copy;
	}
	const copy = { ...(data !== null && typeof data === 'object' ? data : {}) };
	const start = rest.length > 0 && typeof rest[0] === 'number' ? [] : undefined;
	const inner = withValue(Object.hasOwn(copy, step) ? copy[step] : start, rest, value);
	if (inner === undefined) delete copy[step];
	else copy[step] = inner;
	return copy;
}

/* As the core writes it: loads[3].running_w */
function pathWords(path) {
	return path.map((step, i) => (typeof step === 'number' ? `[${step}]` : (i > 0 ? '.' : '') + step)).join('');
}

/* What one file says and another does not: [{where, before, after}], items of lists matched by id
 * or name, so that one more load is one difference. */
function differences(before, after) {
	const found = [];
	const compare = (a, b, where) => {
		if (JSON.stringify(a) === JSON.stringify(b)) return;
		const deep = (x) => x !== null && typeof x === 'object';
		if (!deep(a) || !deep(b) || Array.isArray(a) !== Array.isArray(b) || isWords(a) || isWords(b)) {
			found.push({ where, before: a, after: b });
			return;
		}
		const left = named(a);
		const right = named(b);
		for (const key of new Set([...left.keys(), ...right.keys()]))
			compare(left.get(key), right.get(key), [...where, key]);
		if (found.length === 0 && where.length === 0)
			found.push({ where: ['order'], before: 'as pinned', after: 'moved' });
	};
	const isWords = (x) => Array.isArray(x) && x.every((item) => typeof item !== 'object');
	const named = (x) => (Array.isArray(x)
		? new Map(x.map((item, i) => [String(item.id || item.name || i + 1), item]))
		: new Map(Object.entries(x)));
	compare(before, after, []);
	return found;
}
