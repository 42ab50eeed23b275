/* SPDX-License-Identifier: GPL-3.0-or-later */
/* board.js: circuits and their loads as a table, each with its amps against its limit; loads move
 * between circuits by dragging, by a list, or by the arrow keys. */

const VERDICT_WORDS = { fits: 'holds', depends: 'depends', over: 'too much', over_continuous: 'too much for hours on end' };
const NO_CIRCUIT = '';

/* As the sheet rounds: two digits, three from a hundred on. */
function rounded(value) {
	return String(Number(Number(value).toPrecision(Math.abs(value) >= 100 ? 3 : 2)));
}

function rangeWords(figure, unit) {
	if (!figure) return '';
	const [low, likely, high] = [figure.low, figure.likely, figure.high].map(rounded);
	return low === high ? `${likely} ${unit}` : `${likely} ${unit} (${low} to ${high})`;
}

/* What is drawn against what may be. The bar is for the eye; the words say the same. */
class LimitBar {
	constructor() {
		this.words = make('span', { class: 'limit-words' }, '…');
		this.bar = make('span', { class: 'limit-bar', 'aria-hidden': 'true' }, make('i', { class: 'range' }), make('i', { class: 'likely' }));
		this.element = make('div', { class: 'limit' }, this.bar, this.words);
	}

	show(flow) {
		this.element.dataset.verdict = flow ? flow.verdict : '';
		if (!flow) {
			this.words.textContent = 'nothing on it draws';
			this.bar.hidden = true;
			return;
		}
		const limit = flow.limit_a > 0 ? ` of ${rounded(flow.limit_a)} A` : ', no limit stated';
		this.words.textContent = `${rangeWords(flow.amps, 'A')}${limit}`;
		if (flow.limit_a > 0) this.words.append(make('b', {}, `: ${VERDICT_WORDS[flow.verdict] || flow.verdict}`));
		this.bar.hidden = !(flow.limit_a > 0);
		for (const [name, value] of [['low', flow.amps.low], ['likely', flow.amps.likely], ['high', flow.amps.high], ['limit', flow.limit_a]])
			this.bar.style.setProperty(`--${name}`, String(value));
	}
}

class Board {
	constructor(view) {
		this.view = view;
		this.off = new Set();
		this.running = 'everything';
		this.supply = '';
		this.bars = new Map();
		this.drawn = new Map();
	}

	get loads() { return listOf('loads'); }
	get circuits() { return listOf('circuits'); }

	draw() {
		this.bars.clear();
		this.drawn.clear();
		const groups = [...this.circuits.map((circuit, i) => ({ circuit, at: ['circuits', i] })), { circuit: null, at: null }];
		const known = new Set(this.circuits.map((circuit) => circuit && circuit.id));
		refill(this.view, make('h2', {}, 'Circuits and loads'),
			make('p', { class: 'caution-line' }, 'A load that moves here moves on paper only. Changing the wiring is work for a licensed electrician, by the code that holds there.'),
			this.chooser(), this.legs(),
			groups.map(({ circuit, at }) => this.group(circuit, at, this.loads.map((load, i) => ({ load, i }))
				.filter(({ load }) => load && typeof load === 'object' && (circuit ? load.circuit === circuit.id : !known.has(load.circuit))))),
			this.adders());
		this.refresh();
	}

	/* Which supply, and what is switched on. */
	chooser() {
		const sets = listOf('together').filter((set) => set && Array.isArray(set.loads));
		const cord = valueAt(page.history.data, ['shore', 'cord_a']);
		if (!this.supply) this.supply = `${cord || 30}A`;
		const running = [['everything', 'everything'], ...sets.map((set, i) => [String(i), String(set.name)]), ['own', 'what is ticked below']];
		this.runningSelect = select({ onchange: (event) => this.switchTo(event.target.value) }, running, this.running);
		return make('div', { class: 'fields chooser' },
			labelled('Switched on together', this.runningSelect),
			labelled('On the supply', select({ onchange: (event) => { this.supply = event.target.value; this.refresh(); } },
				page.lists.supplies, this.supply)));
	}

	switchTo(which) {
		this.running = which;
		const set = listOf('together')[Number(which)];
		if (which === 'everything') this.off.clear();
		else if (set) this.off = new Set(this.loads.map((load) => load.id).filter((id) => !set.loads.includes(id)));
		for (const [id, row] of this.drawn) row.tick.checked = !this.off.has(id);
		this.refresh();
	}

	legs() {
		this.legRows = make('div', { class: 'legs' });
		return make('section', { class: 'leg-bars', 'aria-label': 'The supply' }, this.legRows);
	}

	group(circuit, at, members) {
		const bar = circuit ? new LimitBar() : null;
		if (circuit) this.bars.set(circuit.id, bar);
		const title = circuit ? nameOf(circuit) : (members.length > 0 || this.circuits.length === 0 ? 'On no circuit' : null);
		if (title === null) return null;
		return make('section', { class: 'circuit', 'data-circuit': circuit ? circuit.id : NO_CIRCUIT, 'aria-label': title,
			'data-paths': at ? pathWords(at) : '' },
		make('div', { class: 'circuit-head' }, make('h3', { dir: 'auto' }, title), circuit ? this.circuitTools(circuit, at) : null),
		bar ? bar.element : null,
		make('ul', { class: 'loads' }, members.map(({ load, i }) => this.row(load, i))));
	}

	circuitTools(circuit, at) {
		const isDc = circuit.supply === 'dc' || (circuit.supply === undefined && circuit.bank !== undefined);
		const legs = isDc ? null : select({ 'aria-label': `Leg of ${nameOf(circuit)}`,
			onchange: (event) => page.restructure(withValue(page.history.data, [...at, 'leg'], event.target.value || undefined), 'the leg') },
		[['', 'leg not said'], ['L1', 'leg L1'], ['L2', 'leg L2'], ['both', 'both legs, 240 V']], circuit.leg || '');
		return make('div', { class: 'circuit-tools' }, isDc ? make('span', { class: 'tag' }, 'DC') : legs,
			button('Edit', () => this.edit('circuit', at, nameOf(circuit)), { 'aria-label': `Edit ${nameOf(circuit)}`, class: 'plain' }));
	}

	row(load, i) {
		const words = nameOf(load);
		const tick = make('input', { type: 'checkbox', 'aria-label': `${words} is on`, onchange: (event) => this.toggle(load.id, event.target.checked) });
		tick.checked = !this.off.has(load.id);
		const amps = make('span', { class: 'amps' }, '…');
		const element = make('li', { class: 'load', 'data-paths': pathWords(['loads', i]) },
			this.handle(load, i),
			make('label', { class: 'tick' }, tick, make('span', { class: 'load-name' }, make('span', { dir: 'auto' }, words),
				load.count > 1 ? ` × ${load.count}` : '')),
			amps,
			select({ class: 'mover', 'aria-label': `Circuit of ${words}`, onchange: (event) => this.move(i, event.target.value) },
				[[NO_CIRCUIT, 'no circuit'], ...page.keys.idsOf(page.history.data, 'circuits')], load.circuit || NO_CIRCUIT),
			button('Edit', () => this.edit('load', ['loads', i], words), { 'aria-label': `Edit ${words}`, class: 'plain', style: 'grid-area: edit' }),
			button('Remove', () => removeItem({ object: 'load' }, ['loads', i]), { 'aria-label': `Remove ${words}`, class: 'plain', style: 'grid-area: remove' }));
		this.drawn.set(load.id, { amps, tick, element });
		return element;
	}

	toggle(id, isOn) {
		if (isOn) this.off.delete(id);
		else this.off.add(id);
		this.running = 'own';
		this.runningSelect.value = 'own';
		this.refresh();
	}

	/* Grip of a load: a finger or a mouse drags it, arrow keys take it to the next circuit. */
	handle(load, i) {
		const grip = make('button', { type: 'button', class: 'grip', 'aria-label': `Move ${nameOf(load)}: drag, or arrow keys` }, '⠿');
		grip.addEventListener('pointerdown', (event) => this.drag(event, grip, i));
		grip.addEventListener('keydown', (event) => {
			const step = { ArrowUp: -1, ArrowDown: 1 }[event.key];
			if (!step) return;
			event.preventDefault();
			const ids = [...this.circuits.map((circuit) => circuit.id), NO_CIRCUIT];
			const next = ids[ids.indexOf(load.circuit || NO_CIRCUIT) + step];
			if (next === undefined) return;
			this.move(i, next);
			this.drawn.get(load.id).element.querySelector('.grip').focus();
		});
		return grip;
	}

	drag(event, grip, i) {
		event.preventDefault();
		grip.setPointerCapture(event.pointerId);
		const row = grip.closest('.load');
		row.classList.add('dragged');
		let target = null;
		const over = (at) => {
			row.style.transform = `translateY(${at.clientY - event.clientY}px)`;
			const under = document.elementsFromPoint(at.clientX, at.clientY).map((element) => element.closest('[data-circuit]')).find(Boolean);
			if (under === target) return;
			if (target) target.classList.remove('target');
			target = under || null;
			if (target) target.classList.add('target');
		};
		const end = (dropped) => {
			grip.removeEventListener('pointermove', over);
			row.classList.remove('dragged');
			row.style.transform = '';
			if (target) target.classList.remove('target');
			if (dropped && target && target.dataset.circuit !== (this.loads[i].circuit || NO_CIRCUIT)) this.move(i, target.dataset.circuit);
		};
		grip.addEventListener('pointermove', over);
		grip.addEventListener('pointerup', () => end(true), { once: true });
		grip.addEventListener('pointercancel', () => end(false), { once: true });
	}

	move(i, circuit) {
		const words = nameOf(this.loads[i]);
		page.restructure(withValue(page.history.data, ['loads', i, 'circuit'], circuit === NO_CIRCUIT ? undefined : circuit), `moved ${words}`);
		const to = this.circuits.find((item) => item.id === circuit);
		say(`${words} is now on ${to ? nameOf(to) : 'no circuit'}.`);
	}

	edit(objectName, at, words) {
		const dialog = openDialog(words, objectForm(objectName, at),
			objectName === 'circuit' ? make('div', { class: 'actions' }, button('Remove this circuit', () => { dialog.close(); removeItem({ object: 'circuit' }, at); }, { class: 'plain' })) : null);
		dialog.addEventListener('close', () => page.redraw());
	}

	adders() {
		const kinds = (on) => [...page.appliances.entries()].filter(([, row]) => row.on === on).map(([id, row]) => [id, row.what]);
		const chosen = select({ 'aria-label': 'Appliance to add' }, [['', 'an appliance …'],
			{ group: 'AC', choices: kinds('AC') }, { group: 'DC', choices: kinds('DC') }], '');
		const add = (circuit) => page.restructure(withValue(page.history.data, ['circuits', this.circuits.length], circuit), 'added a circuit');
		return make('div', { class: 'adders' },
			make('div', { class: 'entry' }, chosen, button('Add it', () => this.add(chosen.value))),
			make('div', { class: 'actions' },
				button('Add an AC breaker', () => add({ id: freeId(this.circuits, 'breaker'), name: 'New breaker', supply: 'ac', breaker_a: 20 })),
				button('Add a DC fuse', () => add({ id: freeId(this.circuits, 'fuse'), name: 'New fuse', supply: 'dc', breaker_a: 15 })),
				button('Keep what is ticked as a set', () => this.keepSet(), { class: 'plain' })));
	}

	add(profile) {
		if (profile === '') return;
		page.restructure(withValue(page.history.data, ['loads', this.loads.length], { id: freeId(this.loads, profile), profile }), 'added a load');
	}

	keepSet() {
		const sets = listOf('together');
		const ids = this.loads.map((load) => load.id).filter((id) => !this.off.has(id));
		page.restructure(withValue(page.history.data, ['together', sets.length], { name: `Set ${sets.length + 1}`, loads: ids }), 'kept a set');
		notify('set', `Kept as "Set ${sets.length + 1}". Rename it under Everything, Together.`);
	}

	/* Asks the core for the amps and shows them; the rows stay as they are. */
	refresh() {
		if (page.coachTab !== 'board') return;
		this.newest = this.newest || new Newest();
		this.newest.run(async () => {
			const request = { do: 'budget', file: page.history.text, supply: this.supply };
			if (this.off.size > 0) request.on = this.loads.map((load) => load.id).filter((id) => !this.off.has(id));
			const response = await page.quick.ask(request);
			if (response.ok) this.show(response);
		});
	}

	show(response) {
		refill(this.legRows, response.legs.map((leg) => {
			const bar = new LimitBar();
			bar.show(leg);
			return make('div', { class: 'leg' }, make('h3', {}, leg.name), bar.element);
		}));
		for (const bar of this.bars.values()) bar.show(null);
		for (const circuit of response.circuits)
			if (this.bars.has(circuit.id)) this.bars.get(circuit.id).show(circuit);
		for (const load of response.loads) {
			const row = this.drawn.get(load.id);
			if (row) row.amps.textContent = [rangeWords(load.amps, 'A'), load.watts ? `${rounded(load.watts.likely)} W` : ''].filter(Boolean).join(', ');
		}
	}
}
