/* SPDX-License-Identifier: GPL-3.0-or-later */
/* compare.js: what if: the coach as it was pinned beside the coach as it is now, answer by answer. */

class Compare {
	constructor() {
		this.pinned = null;
		this.turn = new Newest();
		this.isDrawn = false;
	}

	pin() {
		this.pinned = { text: page.history.text, data: page.history.data, when: new Date() };
		this.got = null;
		say('Pinned. Change the coach and see what that does.');
		page.answers.show('compare');
	}

	unpin() {
		this.pinned = null;
		this.draw(this.view);
	}

	changed() {
		if (this.view && page.answers.current === 'compare') this.draw(this.view);
	}

	draw(view) {
		this.view = view;
		if (!this.pinned) {
			refill(view, make('div', { class: 'card' }, make('h2', {}, 'What if?'),
				make('p', {}, 'Pin the coach as it is, then change it: another panel, a larger bank, one heater less. Each answer then stands beside the pinned one.'),
				button('Pin the coach as it is now', () => this.pin(), { class: 'main' })));
			return;
		}
		this.turn.run(() => this.work());
	}

	async work() {
		page.setOlder(true);
		const both = [];
		for (const text of [this.pinned.text, page.history.text]) {
			const key = JSON.stringify([text, page.settings.options, page.settings.units]);
			this.cache = this.cache || new Map();
			if (!this.cache.has(key)) this.cache.set(key, await page.slow.ask({ ...page.answers.request('report', text), as: [] }));
			both.push(this.cache.get(key));
		}
		while (this.cache.size > 4) this.cache.delete(this.cache.keys().next().value);
		if (page.answers.current !== 'compare' || !this.pinned) return;
		page.setOlder(false);
		this.show(both[0], both[1]);
	}

	show(before, now) {
		const changes = differences(this.pinned.data, page.history.data);
		refill(this.view, make('div', { class: 'card' }, make('h2', {}, 'What if?'),
			make('h3', {}, 'What differs'),
			changes.length === 0 ? make('p', {}, 'Nothing yet: change the coach.')
				: make('ul', { class: 'changes' }, changes.slice(0, 20).map((change) => make('li', {},
					make('b', { dir: 'auto' }, change.where.join(', ')), ': ', make('span', { dir: 'auto' }, valueWords(change.before)),
					' → ', make('span', { dir: 'auto' }, valueWords(change.after))))),
			changes.length > 20 ? make('p', {}, `and ${changes.length - 20} more`) : null,
			this.tools(),
			now.ok ? this.table(before, now) : [make('p', {}, 'The coach as it is now has no answer yet:'), faultList(now.faults, false)]));
	}

	tools() {
		return make('div', { class: 'actions' },
			button('Pin this one instead', () => this.pin()),
			button('Go back to the pinned coach', () => page.history.open(this.pinned.text, 'back to the pinned coach')),
			button('Unpin', () => this.unpin(), { class: 'plain' }));
	}

	table(before, now) {
		const earlier = new Map((before.ok ? before.answers : []).map((answer) => [answer.question, answer]));
		const rows = now.answers.map((answer) => ({ question: answer.question, before: earlier.get(answer.question), now: answer }));
		const same = (row) => row.before && row.before.verdict === row.now.verdict && row.before.more === row.now.more;
		const cell = (answer, label) => make('div', { class: 'beside' }, make('h4', {}, label),
			answer ? [make('p', { class: 'verdict', dir: 'auto' }, answer.verdict), make('p', { dir: 'auto' }, answer.more)] : make('p', {}, 'not asked of it'));
		return rows.map((row) => make('section', { class: 'pair', 'data-same': String(Boolean(same(row))) },
			make('h3', {}, row.question),
			same(row) ? make('div', { class: 'same' }, make('p', {}, make('b', {}, 'The same: '), make('span', { dir: 'auto' }, row.now.verdict)))
				: make('div', { class: 'two' }, cell(row.before, 'Pinned'), cell(row.now, 'Now'))));
	}
}

function valueWords(value) {
	if (value === undefined) return 'nothing';
	if (value !== null && typeof value === 'object') {
		if (Array.isArray(value)) return value.every((item) => typeof item !== 'object') ? value.join(', ') || 'none' : `${value.length} items`;
		if (value.likely !== undefined) return `${value.likely}${value.low === undefined ? '' : ` (${value.low} to ${value.high})`}`;
		return nameOf(value);
	}
	return String(value);
}
