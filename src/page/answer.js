/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answer.js: the questions and what the core answers. An answer stays readable until a newer one is
 * there, and says when it is older than the coach. */

/* Short names for the tabs, and what one may say with the question, in part behind a fold; other
 * questions show as the core calls them. */
const QUESTION_TABS = {
	report: { words: 'Sheet', options: ['for', 'month', 'days', 'habit', 'inspector', 'date'] },
	shore: { words: 'Shore power', options: ['run'] },
	shed: { words: 'Shedding', options: ['supply', 'day', 'habit'] },
	solar: { words: 'Solar', options: ['month', 'habit'] },
	trip: { words: 'Stay', options: ['month', 'days', 'trips', 'wanted', 'habit', 'weather'] },
	readings: { words: 'Readings', options: [] },
	wiring: { words: 'Wiring', options: ['copper'] },
	claims: { words: 'Claims', options: [] },
	size: { words: 'Sizing', options: ['months', 'days', 'wanted', 'habit', 'load', 'keep', 'replace', 'parts', 'compare'],
		more: ['roof', 'obstacle', 'gap', 'battery_room', 'max_price', 'max_weight', 'max_area', 'max_panels', 'max_batteries', 'runs'] },
	oneline: { words: 'Diagram', options: [] },
};
const OFTEN_ASKED = ['report', 'shore', 'solar', 'trip', 'shed', 'readings', 'wiring'];
const MORE_WORDS = 'Roof, battery room and limits';
/* Which answers come with a line of time to go along. */
const TIMED = { shed: 'shed', trip: 'trip' };
const LONG_ENOUGH_TO_STOP_MS = 700;

class Answers {
	constructor(questions) {
		this.questions = new Map(questions.map((question) => [question.name, question]));
		this.got = new Map();
		this.current = 'report';
		this.quickTurn = new Newest();
		this.slowTurn = new Newest();
		this.timeline = null;
		this.started = 0;
	}

	/* What an answer belongs to. */
	key() { return JSON.stringify([page.history.text, page.settings.options, page.settings.units]); }

	request(question, file) {
		const options = { ...page.settings.options, units: page.settings.units };
		const { options: often = [], more = [] } = QUESTION_TABS[question] || {};
		const asked = [...often, ...more];
		for (const name of Object.keys(options))
			if (name !== 'units' && !asked.includes(name) && QUESTION_TABS[question]) delete options[name];
		return { do: 'answer', question, file, options, as: question in TIMED ? ['html', 'data'] : ['html'] };
	}

	tabs() {
		const all = [...this.questions.keys()];
		const names = [...OFTEN_ASKED.filter((name) => all.includes(name)), ...all.filter((name) => !OFTEN_ASKED.includes(name))];
		refill(byId('answer-tabs'), [...names, 'compare'].map((name) => button(
			name === 'compare' ? 'What if' : (QUESTION_TABS[name] || { words: capital(name) }).words,
			() => this.show(name), { 'data-question': name, 'aria-current': String(name === this.current) })));
	}

	show(question) {
		this.current = question;
		for (const tab of byId('answer-tabs').children) tab.setAttribute('aria-current', String(tab.dataset.question === question));
		refill(byId('answer-tool'));
		this.timeline = null;
		this.drawOptions();
		if (question === 'compare') {
			refill(byId('answer-state'));
			page.compare.draw(byId('answer-view'));
			return;
		}
		const got = this.got.get(question);
		if (got) this.draw(question, got);
		else refill(byId('answer-view'), make('p', { class: 'lead wait' }, capital(this.questions.get(question).what) + ' …'));
		this.work();
	}

	isOlder(question) {
		const got = this.got.get(question);
		return !got || got.key !== this.key();
	}

	/* The coach or an option changed. */
	changed() {
		if (this.current === 'compare') page.compare.changed();
		else this.work();
		this.verdicts();
	}

	/* Works out what is shown, if it is not of the coach as it stands. */
	work() {
		const question = this.current;
		if (question === 'compare') return;
		if (!this.isOlder(question)) {
			this.state('now');
			return;
		}
		this.state(this.got.has(question) ? 'older' : 'first');
		const isLong = this.questions.get(question).is_long;
		if (isLong && this.started && performance.now() - this.started > LONG_ENOUGH_TO_STOP_MS) page.slow.cancel();
		(isLong ? this.slowTurn : this.quickTurn).run(() => this.ask(question, isLong ? page.slow : page.quick));
	}

	async ask(question, engine) {
		if (!this.isOlder(question)) return;
		const key = this.key();
		const isSlow = engine === page.slow;
		if (isSlow) this.started = performance.now();
		let response;
		try {
			response = await engine.ask(this.request(question, page.history.text), (done) => this.progress(question, done));
		} finally {
			if (isSlow) this.started = 0;
		}
		const got = { question, key, response };
		this.latest = got;
		if (response.ok || !this.got.has(question)) this.got.set(question, got);
		if (question !== this.current) return;
		if (response.ok) {
			this.draw(question, got);
			this.state(this.isOlder(question) ? 'older' : 'now');
		} else if (key === this.key()) this.refused(response);
	}

	/* The answer of a question to the coach as it stands, from wherever it is. */
	async of(question, file, progress) {
		return page.slow.ask(this.request(question, file === undefined ? page.history.text : file), progress);
	}

	draw(question, { response }) {
		const view = byId('answer-view');
		if (!response.ok) {
			refill(view);
			this.refused(response);
			return;
		}
		const opened = [...view.querySelectorAll('details')].map((fold) => fold.open);
		refill(view, sheetElements(response.html, 'a-'));
		[...view.querySelectorAll('details')].forEach((fold, i) => { fold.open = Boolean(opened[i]); });
		explainFigures(view);
		if (question in TIMED && response.data) {
			this.timeline = this.timeline || new Timeline(byId('answer-tool'), TIMED[question]);
			this.timeline.show(response.data);
		}
	}

	refused(response) {
		const places = response.faults.some((fault) => fault.path && !fault.path.startsWith('options.'));
		refill(byId('answer-state'), make('div', { class: 'notice' },
			make('p', {}, this.got.has(this.current) && this.got.get(this.current).response.ok
				? 'There is no new answer; the one below is from before. What is missing:' : 'There is no answer yet. What is missing:'),
			faultList(response.faults, false), places ? make('p', { class: 'help' }, 'The places are marked in the form.') : null));
		page.setOlder(true);
	}

	state(which) {
		const box = byId('answer-state');
		page.setOlder(which === 'older');
		if (which === 'now') refill(box);
		else {
			this.bar = make('progress', { 'aria-label': 'How far the answer is' });
			refill(box, make('div', { class: 'working' },
				make('p', {}, which === 'older' ? 'From before your last change. Working out the new one …' : 'Working it out …'),
				this.bar, button('Stop', () => this.stop(), { class: 'plain' })));
		}
	}

	progress(question, done) {
		if (question === this.current && this.bar) this.bar.value = done;
	}

	stop() {
		page.slow.cancel();
		page.quick.cancel();
		refill(byId('answer-state'), make('div', { class: 'working' },
			make('p', {}, this.got.has(this.current) ? 'Stopped. What stands below is from before your last change.' : 'Stopped.'),
			button('Work it out', () => this.work())));
	}

	/* The two answers that always stand beside the form; what is shown anyway is not asked twice. */
	verdicts() {
		this.verdictTurn = this.verdictTurn || new Newest();
		this.verdictTurn.run(async () => {
			const key = this.key();
			const found = [];
			for (const question of ['shore', 'solar'].filter((name) => this.questions.has(name))) {
				if (question === this.current) await this.quickTurn.idle();
				const got = this.latest && this.latest.question === question && this.latest.key === key ? this.latest : null;
				const response = got ? got.response : await page.quick.ask({ ...this.request(question, page.history.text), as: [] });
				if (key !== this.key()) return;
				found.push({ question, response });
			}
			page.showVerdicts(found);
		});
	}

	/* The first finding after opening, before anything that takes longer. */
	async first() {
		const response = await page.quick.ask({ ...this.request('shore', page.history.text), as: [] });
		if (!response.ok) return;
		refill(byId('answer-view'), make('article', { class: 'sheet' }, make('header', {}, make('h1', { dir: 'auto' }, response.title),
			response.about.map((line) => make('p', { dir: 'auto' }, line))),
		response.answers.map((answer) => make('section', { class: 'answer' }, make('h2', {}, answer.question),
			make('div', {}, make('p', { class: 'verdict', dir: 'auto' }, answer.verdict), make('p', { dir: 'auto' }, answer.more))))));
	}

	drawOptions() {
		const box = byId('answer-options');
		const { options = [], more = [] } = QUESTION_TABS[this.current] || {};
		const controls = options.map((name) => OPTION_CONTROLS[name]()).filter(Boolean);
		const rare = more.length === 0 ? null : make('details', { class: 'more', open: more.some((name) => page.settings.options[name] !== undefined) },
			make('summary', {}, MORE_WORDS), make('div', { class: 'choices' }, more.map((name) => OPTION_CONTROLS[name]())));
		this.optionsOpen = this.optionsOpen === undefined ? matchMedia('(min-width: 46rem)').matches : this.optionsOpen;
		const fold = make('details', { open: this.optionsOpen }, make('summary', {}, 'What is asked'), make('div', { class: 'choices' }, controls), rare);
		fold.addEventListener('toggle', () => { this.optionsOpen = fold.open; });
		refill(box, fold);
		box.hidden = controls.length === 0;
	}
}

function optionSelect(name, words, choices) {
	const chosen = page.settings.options[name];
	return labelled(words, select({ onchange: (event) => page.setOption(name, event.target.value || undefined) },
		choices, chosen === undefined ? '' : String(chosen)));
}

function optionNumber(name, words, usual) {
	const chosen = page.settings.options[name];
	return labelled(words, make('input', { type: 'text', inputmode: 'numeric', class: 'number', autocomplete: 'off', placeholder: usual,
		value: chosen === undefined ? '' : String(chosen),
		oninput: (event) => page.setOption(name, numberTyped(event.target.value)) }));
}

function optionText(name, words, example = '') {
	return labelled(words, make('input', { type: 'text', autocomplete: 'off', dir: 'auto', placeholder: example, value: page.settings.options[name] || '',
		oninput: (event) => page.setOption(name, event.target.value || undefined) }));
}

/* An option that is a list of words, written with blanks between them. */
function optionWords(name, words, example) {
	return labelled(words, make('input', { type: 'text', autocomplete: 'off', placeholder: example, value: (page.settings.options[name] || []).join(' '),
		oninput: (event) => page.setOption(name, event.target.value.trim() ? event.target.value.trim().split(/\s+/) : undefined) }));
}

/* An option that is a file's text: a button to give it, and one to do without again. */
function optionFile(name, words, accept) {
	const isGiven = page.settings.options[name] !== undefined;
	const give = button(isGiven ? 'Do without it' : 'Open a file …', () => {
		if (isGiven) page.setOption(name, undefined);
		else pickFile(accept, async (file) => page.setOption(name, await textOfFile(file) ?? ''));
	});
	return labelled(words, give, isGiven ? 'in use' : null);
}

const PART_CHOICES = [['', 'whatever is best'], ...['panels', 'bank', 'inverter', 'panels,bank', 'panels,inverter', 'bank,inverter', 'panels,bank,inverter']
	.map((parts) => [parts, parts.replace(/,/g, ', ').replace('bank', 'battery')])];
const OPTION_CONTROLS = {
	month: () => labelled('Month', select({ onchange: (event) => page.setOption('month', Number(event.target.value) || undefined) },
		[['', 'as usual'], ...MONTHS.map((name, i) => [String(i + 1), name])], String(page.settings.options.month || ''))),
	days: () => optionNumber('days', 'Days of the stay', '14'),
	trips: () => optionNumber('trips', 'Random stays to try', '1000'),
	inspector: () => optionText('inspector', 'Who looked'),
	date: () => optionText('date', 'Date to print'),
	habit: () => {
		const habits = listOf('habits').filter((habit) => habit && typeof habit.name === 'string');
		return habits.length < 1 ? null : optionSelect('habit', 'Use', [['', 'the first of the file'], ...habits.map((habit) => [habit.name, habit.name])]);
	},
	weather: () => optionFile('weather', 'A year of weather', '.csv,.epw,text/csv'),
	parts: () => optionFile('parts', "A shop's list of parts", '.json,application/json'),
	for: () => optionSelect('for', 'For whom', [['', 'a buyer'], ['owner', 'the owner'], ['shop', 'a shop']]),
	wanted: () => optionNumber('wanted', 'Stays of 100 that may run out', '5'),
	months: () => optionText('months', 'In which months', 'jul, or nov-feb, or all'),
	load: () => labelled('Run away from hookups', select({ onchange: (event) => page.setOption('load', event.target.value ? [event.target.value] : undefined) },
		[['', 'what does now'], ['all', 'all that runs on AC'], ...page.keys.idsOf(page.history.data, 'loads')],
		(page.settings.options.load || [''])[0])),
	keep: () => optionSelect('keep', 'What stays', PART_CHOICES),
	replace: () => optionSelect('replace', 'What goes', PART_CHOICES),
	compare: () => optionText('compare', 'Options side by side', '1,3'),
	roof: () => optionText('roof', 'Roof, length by width', '33ftx8ft'),
	obstacle: () => optionWords('obstacle', 'What stands on it: corner, then size', '6ft,2ft,30inx30in'),
	gap: () => optionText('gap', 'Left between panels', '1in'),
	battery_room: () => optionText('battery_room', 'Battery room, three sides', '3ftx18inx12in'),
	max_price: () => optionText('max_price', 'Price at most', '2500'),
	max_weight: () => optionText('max_weight', 'Weight at most', '500lb'),
	max_area: () => optionText('max_area', 'Panel area at most', '80ft2'),
	max_panels: () => optionNumber('max_panels', 'New panels at most', '12'),
	max_batteries: () => optionNumber('max_batteries', 'New batteries at most', '12'),
	runs: () => optionText('runs', 'Wire one way: panels, controller, inverter', '20ft,6ft,5ft'),
	run: () => optionSelect('run', 'I want to run', [['', 'nothing in particular'], ...page.keys.idsOf(page.history.data, 'loads')]),
	supply: () => optionSelect('supply', 'Supply', [['', "the coach's own cord"], ...page.lists.supplies, ['generator', 'the generator'], ['inverter', 'the inverter']]),
	day: () => optionSelect('day', 'Weather', [['', 'hot'], ['mild', 'mild'], ['cold', 'cold']]),
	copper: () => optionSelect('copper', 'Copper sizes', [['', 'American gauge'], ['sae', 'SAE, as in vehicles']]),
};
