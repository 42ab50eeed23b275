/* SPDX-License-Identifier: GPL-3.0-or-later */
/* field.js: one key of the file as something to type in, made from its row of the core's table. What
 * is typed goes to the core as it is; the core says what is wrong with it. */

/* A typed number as JSON: undefined for nothing, the very text where it is no number. A comma stands
 * for the point, but not where it could part thousands. */
function numberTyped(text) {
	const words = text.trim();
	if (words === '') return undefined;
	if (/^[-+]?\d+,\d+$/.test(words) && !/^[-+]?\d{1,3},\d{3}$/.test(words)) return Number(words.replace(',', '.'));
	if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(words)) return Number(words);
	return words;
}

/* What to say about a number that was read in another way than it was written. */
function echoOf(text) {
	const value = numberTyped(text);
	if (/^[-+]?\d{1,3},\d{3}$/.test(text.trim())) return `Write ${text.trim().replace(',', '')} or ${text.trim().replace(',', '.')}: the comma could mean either.`;
	if (typeof value === 'number' && text.includes(',')) return `Read as ${value}.`;
	return '';
}

function capital(words) {
	return words.charAt(0).toUpperCase() + words.slice(1);
}

/* The row's sentence as a label, without what only the command line needs. */
function labelOf(row) {
	return capital(row.what.replace(/\s*\(`[^`]*`\)/g, '').replace(/`/g, ''));
}

function helpOf(row) {
	const words = [];
	const numeric = row.kind === 'figure' || row.kind === 'whole';
	if (numeric && Number.isFinite(row.low) && Number.isFinite(row.high))
		words.push(`${row.low} to ${row.high}${row.unit ? ' ' + row.unit : ''}.`);
	if (!row.required && row.absent) words.push(`Left out: ${row.absent.replace(/\[([A-Z0-9-]+)\]/g, '$1')}.`);
	return words.join(' ') || null;
}

/* The index of the row's name that the object uses, or else that the user's units ask for. */
function unitOf(row, object) {
	const used = row.names.findIndex((name) => object && Object.hasOwn(object, name));
	if (used >= 0) return used;
	return page.settings.units === 'us' && row.names.length > 1 ? 1 : 0;
}

class Field {
	constructor(row, at, objectName, words) {
		this.row = row;
		this.at = at;
		this.objectName = objectName;
		this.words = words || labelOf(row);
		this.element = make('div', { class: `field kind-${row.kind}`, 'data-paths':
			row.names.map((name) => pathWords([...at, name])).join(' ') });
		this.fault = make('p', { class: 'fault', id: newId() });
		this.build();
	}

	get object() { return valueAt(page.history.data, this.at); }
	get name() { return this.row.names[unitOf(this.row, this.object)]; }
	get path() { return [...this.at, this.name]; }
	get value() { return valueAt(page.history.data, this.path); }

	set(value) {
		page.set(this.path, value, { merge: pathWords(this.path), from: this.element });
	}

	build() {
		const { row } = this;
		const control = this.control();
		if (!control.id) control.id = newId();
		const help = helpOf(row);
		this.helpElement = help ? make('p', { class: 'help', id: newId() }, help) : null;
		control.setAttribute('aria-describedby', [this.fault.id, this.helpElement && this.helpElement.id].filter(Boolean).join(' '));
		const { words } = this;
		const head = control.tagName === 'DIV'
			? make('span', { class: 'label', id: `${control.id}-l` }, words)
			: make('label', { for: control.id }, words);
		if (control.tagName === 'DIV') control.setAttribute('aria-labelledby', `${control.id}-l`);
		refill(this.element, head, make('div', { class: 'entry' }, control, this.beside()), this.helpElement, this.more(), this.fault);
	}

	beside() { return null; }
	more() { return null; }

	control() {
		const value = this.value;
		const words = value === undefined ? '' : String(value);
		const isLong = this.row.name === 'notes';
		return make(isLong ? 'textarea' : 'input', { value: words, autocomplete: 'off', dir: 'auto', rows: isLong ? 2 : null,
			type: isLong ? null : 'text',
			onchange: () => page.history.settle(),
			oninput: (event) => this.set(event.target.value === '' ? undefined : event.target.value) });
	}
}

class IdField extends Field {
	control() {
		return make('input', { type: 'text', value: String(this.value ?? ''), autocomplete: 'off', spellcheck: 'false', autocapitalize: 'none',
			onchange: (event) => this.rename(event.target.value.trim()) });
	}

	/* What called it by the old id calls it by the new one. */
	rename(to) {
		const from = this.value;
		const target = LIST_OF[this.objectName];
		let data = withValue(page.history.data, this.path, to);
		if (target && typeof from === 'string' && to !== '') data = page.keys.withReferences(data, target, from, to);
		page.history.change(data, 'the id', null, this.element);
	}
}

class NumberField extends Field {
	control() {
		const value = this.value;
		const shown = value !== null && typeof value === 'object' ? value.likely : value;
		this.echo = make('span', { class: 'echo', role: 'status' });
		return make('input', { type: 'text', inputmode: this.row.kind === 'whole' ? 'numeric' : (this.row.low < 0 ? 'text' : 'decimal'),
			autocomplete: 'off', spellcheck: 'false', class: 'number', value: shown === undefined ? '' : String(shown),
			onchange: () => { this.start = undefined; page.history.settle(); },
			oninput: (event) => this.typed(event.target.value) });
	}

	typed(text) {
		this.echo.textContent = echoOf(text);
		this.set(numberTyped(text));
	}

	beside() {
		return [this.row.unit ? make('span', { class: 'unit' }, this.row.unit) : null, this.echo];
	}
}

/* A figure: one number, or a number with its doubt and where it comes from. */
class FigureField extends NumberField {
	get parts() {
		const value = this.value;
		if (value !== null && typeof value === 'object') return value;
		return value === undefined ? {} : { likely: value };
	}

	typed(text) {
		this.echo.textContent = echoOf(text);
		const value = numberTyped(text);
		if (this.start === undefined) this.start = this.value === undefined ? null : this.value;
		if (this.start === null || typeof this.start !== 'object' || value === undefined) {
			this.set(value);
			return;
		}
		/* a range that was there before the typing stays as long as the new number lies in it */
		const { low, high, ...others } = this.start;
		const lies = typeof value !== 'number' || low === undefined || (low <= value && value <= high);
		this.setParts(lies ? { ...this.start, likely: value } : { ...others, likely: value });
		if (!lies) this.echo.textContent += ` The range ${low} to ${high} did not hold it, and is gone.`;
	}

	setParts(parts) {
		const bare = Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined));
		const only = Object.keys(bare);
		if (only.length === 0) this.set(undefined);
		else this.set(only.length === 1 && only[0] === 'likely' ? bare.likely : bare);
	}

	beside() {
		const { row } = this;
		const chosen = unitOf(row, this.object);
		const unit = new Set(row.units).size > 1
			? select({ 'aria-label': `Unit of: ${this.words}`, class: 'unit-choice', onchange: (event) => this.changeUnit(Number(event.target.value)) },
				row.units.map((word, i) => [String(i), word]), String(chosen))
			: (row.units[chosen] ? make('span', { class: 'unit' }, row.units[chosen]) : null);
		const isOpen = typeof this.value === 'object';
		this.doubt = button('Doubt', () => this.toggle(), { class: 'plain small', 'aria-expanded': String(isOpen),
			'aria-label': `Doubt and origin of: ${this.words}` });
		return [unit, this.doubt, this.echo];
	}

	/* The number stays as it was typed: it is its unit that was wrong. */
	changeUnit(to) {
		const name = this.row.names[to];
		const { value, path } = this;
		this.preferred = to;
		if (value === undefined) return;
		const data = withValue(withValue(page.history.data, path, undefined), [...this.at, name], value);
		page.history.change(data, 'the unit', null, this.element);
		this.build();
	}

	toggle() {
		const isOpen = this.doubt.getAttribute('aria-expanded') === 'true';
		this.doubt.setAttribute('aria-expanded', String(!isOpen));
		this.panel.hidden = isOpen;
	}

	part(name, words) {
		const input = make('input', { type: 'text', inputmode: 'decimal', class: 'number', autocomplete: 'off',
			value: this.parts[name] === undefined ? '' : String(this.parts[name]),
			onchange: () => page.history.settle(),
			oninput: (event) => this.setParts({ from: 'estimated', ...this.parts, [name]: numberTyped(event.target.value) }) });
		return labelled(words, input);
	}

	more() {
		const ORIGINS = [['', 'as stated'], ['measured', 'measured'], ['nameplate', 'on a label'], ['profile', 'from a table'], ['estimated', 'judged']];
		const from = select({ onchange: (event) => this.setParts({ ...this.parts, from: event.target.value || undefined }) },
			ORIGINS, this.parts.from || '');
		const note = make('input', { type: 'text', autocomplete: 'off', dir: 'auto', value: this.parts.note || '',
			oninput: (event) => this.setParts({ from: 'estimated', ...this.parts, note: event.target.value || undefined }) });
		this.panel = make('div', { class: 'doubt' },
			this.part('low', 'At least'), this.part('high', 'At most'),
			labelled('Where it comes from', from), labelled('Who says so', note));
		this.panel.hidden = typeof this.value !== 'object';
		return this.panel;
	}
}

class ChoiceField extends Field {
	control() {
		const value = this.value;
		const choices = this.choices();
		const known = value === undefined || choices.some(([key]) => key === String(value));
		return select({ onchange: (event) => this.set(this.read(event.target.value)) },
			[['', 'not said'], ...choices, ...(known ? [] : [[String(value), String(value)]])], value === undefined ? '' : String(value));
	}

	choices() { return this.row.choices.map((word) => [String(word), String(word)]); }

	read(word) {
		if (word === '') return undefined;
		if (this.row.kind === 'number') return Number(word);
		if (this.row.kind === 'yes_no') return word === 'true';
		return word;
	}
}

class YesNoField extends ChoiceField {
	choices() { return [['true', 'yes'], ['false', 'no']]; }
}

class ReferenceField extends ChoiceField {
	choices() {
		return page.lists[this.row.target] || page.keys.idsOf(page.history.data, this.row.target);
	}
}

class PlaceField extends Field {
	control() {
		this.input = placeInput(typeof this.value === 'string' ? this.value : '', (words) => this.set(words === '' ? undefined : words));
		return this.input;
	}

	more() { return this.input.proposals; }
}

/* A text box that proposes places of the table. */
function placeInput(value, onchosen) {
	const list = make('datalist', { id: newId() });
	const propose = afterStill(60, async (words) => {
		const found = await page.quick.ask({ do: 'list', what: 'places', word: words, most: 12 });
		if (found.ok) refill(list, found.rows.map((row) => option(row[0], '', false)));
	});
	const input = make('input', { type: 'text', value, autocomplete: 'off', list: list.id, dir: 'auto',
		onchange: () => page.history.settle(),
		oninput: (event) => { propose(event.target.value.trim()); onchosen(event.target.value); } });
	input.proposals = list;
	return input;
}

/* Many of a list: a tick for each. */
class ReferencesField extends Field {
	control() {
		const chosen = Array.isArray(this.value) ? this.value : [];
		const choices = page.keys.idsOf(page.history.data, this.row.target);
		const strays = chosen.filter((id) => !choices.some(([known]) => known === id)).map((id) => [String(id), String(id)]);
		return make('div', { class: 'ticks', role: 'group', id: newId() }, [...choices, ...strays].map(([id, words]) => make('label', { class: 'tick' },
			this.tick(id, chosen.includes(id)), make('span', { dir: 'auto' }, words))));
	}

	tick(id, isOn) {
		const box = make('input', { type: 'checkbox', onchange: (event) => this.toggle(id, event.target.checked) });
		box.checked = isOn;
		return box;
	}

	toggle(id, isOn) {
		const others = (Array.isArray(this.value) ? this.value : []).filter((other) => other !== id);
		const all = isOn ? [...others, id] : others;
		page.set(this.path, all.length > 0 || this.row.required ? all : undefined, { from: this.element });
	}
}

const FIELD_KINDS = { text: Field, format: Field, id: IdField, reference: ReferenceField, references: ReferencesField,
	yes_no: YesNoField, whole: NumberField, choice: ChoiceField, number: ChoiceField, figure: FigureField };

/* words: a label other than the table's sentence. */
function fieldFor(row, at, objectName, words) {
	const Kind = row.kind === 'reference' && row.target === 'places' ? PlaceField : FIELD_KINDS[row.kind];
	return new Kind(row, at, objectName, words).element;
}
