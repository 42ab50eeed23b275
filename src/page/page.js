/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.js: the page as a whole: what is shown where, and who hears of a change. */

const COACH_TABS = { quick: 'In a minute', board: 'Circuits and loads', readings: 'Readings', everything: 'Everything' };

class Page {
	constructor() {
		this.history = new History();
		this.settings = { units: 'us', look: 'device', keepNames: false, ...readStored(SETTINGS_KEY), options: {} };
		this.lists = {};
		this.appliances = new Map();
		this.coachTab = 'quick';
		this.side = 'answers';
		this.fileName = null;
		this.isDemo = false;
		this.saved = null;
		this.compare = new Compare();
		this.quick = new Engine();
		/* started once the first finding is there */
		this.slow = new Engine(true);
		this.keep = afterStill(400, () => this.keepDraft());
		this.prepareSheet = afterStill(1200, () => this.readyToPrint());
	}

	async start() {
		this.setLook();
		this.drawFrame();
		const [demo, questions] = await Promise.all([this.quick.ask({ do: 'demo' }), this.quick.ask({ do: 'questions' })]);
		if (!demo.ok) throw new Error(faultWords(demo.faults[0]));
		this.demos = demo.coaches;
		this.answers = new Answers(questions.questions);
		const draft = readDraft();
		this.openFirst(draft);
		this.answers.tabs();
		await this.answers.first();
		await this.readTables();
		this.history.listeners.push((what) => this.changed(what));
		this.board = new Board(byId('coach-view'));
		this.drawCoach();
		this.answers.drawOptions();
		this.answers.changed();
		document.documentElement.dataset.ready = 'true';
	}

	/* The draft of last time, or a coach to look at. */
	openFirst(draft) {
		try {
			if (!draft) throw new Error('none');
			this.history.open(draft.file, 'the draft');
			this.history.state.text = null;
			this.settings.options = draft.options && typeof draft.options === 'object' ? draft.options : {};
			notify('draft', 'This is your draft from last time.' + (this.settings.keepNames ? '' : ' Names and notes were not kept; a saved file has them.'),
				[['Start anew', () => this.chooseStart()]]);
		} catch {
			this.openDemo(this.demos[0]);
		}
	}

	openDemo(demo) {
		this.history.open(demo.text, `the demo ${demo.name}`);
		this.isDemo = true;
		this.fileName = null;
		notify('demo', `This is a demo: ${demo.name}.`, [['Start with your coach', () => this.chooseStart()]]);
		this.showName();
	}

	async readTables() {
		const TABLES = ['batteries', 'panels', 'supplies', 'conductors'];
		const [keys, appliances, ...tables] = await Promise.all([this.quick.ask({ do: 'keys' }), this.quick.ask({ do: 'list', what: 'appliances' }),
			...TABLES.map((what) => this.quick.ask({ do: 'list', what }))]);
		this.keys = new Keys(keys.objects);
		const column = (head) => appliances.columns.findIndex((one) => one.head === head);
		for (const row of appliances.rows)
			this.appliances.set(row[0], { on: row[column('on')], watts: row[column('running')], what: row[column('what')] });
		this.lists.appliances = [...this.appliances].map(([id, row]) => [id, row.what]);
		for (const [i, what] of TABLES.entries()) {
			const table = tables[i];
			const words = table.columns.findIndex((one) => one.head === 'what');
			this.lists[what] = table.rows.map((row) => [row[0], words > 0 ? row[words] : row[0]]);
		}
	}

	drawFrame() {
		refill(byId('tools'),
			button('Undo', () => this.undo(), { id: 'undo', disabled: true }),
			button('Redo', () => this.redo(), { id: 'redo', disabled: true }),
			button('Open', askForFile, { class: 'wide-only' }),
			button('Save', saveFile),
			button('Print', printSheet, { class: 'wide-only' }),
			this.menu());
		refill(byId('coach-tabs'), Object.entries(COACH_TABS).map(([name, words]) =>
			button(words, () => this.showCoachTab(name), { 'data-tab': name, 'aria-current': String(name === this.coachTab) })));
		refill(byId('foot'), make('div', { id: 'verdicts', class: 'verdicts' }),
			make('div', { class: 'sides' }, ['coach', 'answers'].map((side) => button(capital(side), () => this.showSide(side), { 'data-side': side }))));
		this.showSide(this.side);
		this.listen();
	}

	menu() {
		const items = [['Start anew …', () => this.chooseStart()], ['Open a rig file …', askForFile], ['Save the rig file', saveFile],
			['Share …', shareDialog], ['Print, or save as PDF', printSheet], ['What if: pin this coach', () => { this.showSide('answers'); this.compare.pin(); }],
			['How is this worked out?', explainAll], ['Settings …', () => this.settingsDialog()], ['About', () => this.about()]];
		const menu = make('details', { class: 'menu' }, make('summary', {}, 'Menu'),
			make('div', { class: 'menu-items' }, items.map(([words, act]) => button(words, () => { menu.open = false; act(); }))));
		document.addEventListener('click', (event) => { if (!menu.contains(event.target)) menu.open = false; });
		menu.addEventListener('keydown', (event) => {
			if (event.key !== 'Escape') return;
			menu.open = false;
			menu.querySelector('summary').focus();
		});
		return menu;
	}

	listen() {
		document.addEventListener('keydown', (event) => this.shortcut(event));
		document.addEventListener('visibilitychange', () => { if (document.hidden) this.keepDraft(); });
		window.addEventListener('pagehide', () => this.keepDraft());
		window.addEventListener('beforeunload', (event) => {
			if (this.isChanged && !this.isKept) event.preventDefault();
		});
		window.addEventListener('beforeprint', beforePrint);
		window.addEventListener('afterprint', afterPrint);
		document.addEventListener('dragover', (event) => { if (event.dataTransfer.types.includes('Files')) event.preventDefault(); });
		document.addEventListener('drop', (event) => {
			if (event.dataTransfer.files.length === 0) return;
			event.preventDefault();
			openFile(event.dataTransfer.files[0]);
		});
	}

	shortcut(event) {
		if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
		const key = event.key.toLowerCase();
		const act = { z: event.shiftKey ? () => this.redo() : () => this.undo(), y: () => this.redo(), s: saveFile, o: askForFile, p: printSheet }[key];
		if (!act) return;
		event.preventDefault();
		act();
	}

	/* ---- changes ---- */

	/* One value of the file, as somebody types it. */
	set(path, value, { merge, from }) {
		this.history.change(withValue(this.history.data, path, value), `changed ${pathWords(path)}`, merge || null, from || document.activeElement);
	}

	/* A change after which the form looks different. */
	restructure(data, label, focus) {
		this.history.change(data, label, null);
		if (focus) this.focusPath(pathWords(focus));
	}

	setOption(name, value) {
		const options = { ...this.settings.options };
		if (value === undefined) delete options[name];
		else options[name] = value;
		this.settings.options = options;
		if (name === 'weather' || name === 'parts') this.answers.drawOptions();
		this.answers.changed();
		this.keep();
	}

	changed({ from, whole }) {
		if (whole) this.markFaults([]);
		if (this.isDemo && !whole) dismiss('demo');
		this.showName();
		byId('undo').disabled = !this.history.canUndo;
		byId('redo').disabled = !this.history.canRedo;
		if (!from) this.redraw();
		if (this.board) this.board.refresh();
		this.answers.changed();
		this.prepareSheet();
		this.keep();
	}

	undo() {
		const label = this.history.undo();
		if (label !== null) say(`Undone: ${label}.`);
	}

	redo() {
		const label = this.history.redo();
		if (label !== null) say(`Done again: ${label}.`);
	}

	get isChanged() {
		return this.saved !== this.history.state && !this.history.isAsOpened;
	}

	keepDraft() {
		if (!this.isChanged) return;
		this.isKept = saveDraft(this.history, this.settings);
		if (!this.isKept && !this.toldOfStorage) {
			this.toldOfStorage = true;
			notify('storage', 'This browser keeps nothing for this page, so there is no draft if it closes. Save the rig file before you leave.', [['Save', saveFile]]);
		}
	}

	async readyToPrint() {
		if (this.answers.current === 'report' || !this.answers.isOlder('report')) return;
		if (this.answers.slowTurn.busy) {
			this.prepareSheet();
			return;
		}
		this.answers.slowTurn.run(() => this.answers.ask('report', this.slow));
	}

	/* ---- what is shown ---- */

	showName() {
		const name = this.history.data && typeof this.history.data.name === 'string' ? this.history.data.name : 'A coach without a name';
		byId('coach-name').textContent = name;
		document.title = `${[...name].slice(0, 60).join('')} - rigbudget`;
	}

	showSide(side) {
		if (side !== this.side) byId('middle').scrollTop = 0;
		this.side = side;
		byId('desk').dataset.side = side;
		for (const tab of byId('foot').querySelectorAll('[data-side]')) tab.setAttribute('aria-current', String(tab.dataset.side === side));
	}

	showCoachTab(name) {
		this.coachTab = name;
		if (!this.keys) return;
		for (const tab of byId('coach-tabs').children) tab.setAttribute('aria-current', String(tab.dataset.tab === name));
		this.drawCoach();
	}

	drawCoach() {
		const view = byId('coach-view');
		if (this.coachTab === 'quick') drawQuick(view);
		else if (this.coachTab === 'board') this.board.draw();
		else if (this.coachTab === 'readings') this.drawReadings(view);
		else drawEverything(view);
		this.markFaults(this.faults || []);
	}

	drawReadings(view) {
		const row = this.keys.row(this.keys.coach.name, 'readings');
		refill(view, make('h2', {}, 'Meter readings'),
			make('p', { class: 'lead' }, 'Switch some things on, read a meter, and write down what it says. The answer shows which draws the readings settle, and which appliance does not draw what its label says.'),
			make('p', { class: 'caution-line' }, 'Read at a clamp or a panel meter only. Do not open a panel or touch a terminal for this: that is licensed work.'),
			listForm(row, ['readings']),
			make('div', { class: 'actions' }, button('Show what they tell', () => { this.showSide('answers'); this.answers.show('readings'); }),
				button('Take over what they settled', () => this.accept(), { class: 'plain' })));
	}

	async accept() {
		const found = await this.quick.ask({ do: 'accept', file: this.history.text, options: { units: this.settings.units } });
		if (!found.ok) {
			openDialog('Nothing was taken over', faultList(found.faults, false));
			return;
		}
		this.history.open(found.text, 'took over what the readings settled');
		notify('accepted', `${found.n} ${found.n === 1 ? 'figure was' : 'figures were'} taken over from the readings.`, [['Undo', () => this.undo()]]);
	}

	/* Draws the form again with the focus where it was. */
	redraw() {
		if (!this.keys) return;
		const active = document.activeElement;
		const inside = active && byId('coach-view').contains(active) ? active : null;
		const holder = inside && inside.closest('[data-paths]');
		const label = inside && inside.getAttribute('aria-label');
		const nth = holder ? [...holder.querySelectorAll('input,select,textarea,button')].indexOf(inside) : -1;
		const scroll = byId('coach-view').scrollTop;
		this.drawCoach();
		byId('coach-view').scrollTop = scroll;
		if (!inside) return;
		const same = holder && [...byId('coach-view').querySelectorAll('[data-paths]')].find((one) => one.dataset.paths === holder.dataset.paths);
		const again = (same && same.querySelectorAll('input,select,textarea,button')[nth])
			|| (label && [...byId('coach-view').querySelectorAll('[aria-label]')].find((one) => one.getAttribute('aria-label') === label));
		if (again) again.focus();
		else byId('coach-view').focus({ preventScroll: true });
	}

	focusPath(path) {
		const place = this.elementOf(path);
		const control = place && place.querySelector('input,select,textarea');
		if (control) control.focus();
	}

	/* The field of a path of the core, or of the nearest thing around it that is drawn. */
	elementOf(path) {
		const fields = [...byId('coach-view').querySelectorAll('[data-paths]')];
		for (let at = path; at !== ''; at = at.replace(/(\.[^.[\]]+|\[\d+\]|^[^.[\]]+)$/, '')) {
			const found = fields.find((field) => field.dataset.paths.split(' ').includes(at));
			if (found) return found;
		}
		return null;
	}

	/* Shows the place of a fault in the full form. */
	goTo(path) {
		this.showSide('coach');
		for (let at = path; at !== ''; at = at.replace(/(\.[^.[\]]+|\[\d+\]|^[^.[\]]+)$/, '')) {
			openPlaces.add(at);
			openPlaces.add(`${at}+`);
		}
		this.showCoachTab('everything');
		const place = this.elementOf(path);
		if (!place) return;
		place.scrollIntoView({ block: 'center' });
		this.focusPath(path);
	}

	markFaults(faults) {
		this.faults = faults;
		for (const marked of byId('coach-view').querySelectorAll('.has-fault')) {
			marked.classList.remove('has-fault');
			for (const control of marked.querySelectorAll('[aria-invalid]')) control.removeAttribute('aria-invalid');
			const words = marked.querySelector('.fault');
			if (words) words.textContent = '';
		}
		for (const fault of faults) {
			const place = fault.path ? this.elementOf(fault.path) : null;
			if (!place) continue;
			place.classList.add('has-fault');
			const words = place.querySelector('.fault');
			if (words) words.textContent = faultWords(fault);
			const control = place.querySelector('input,select,textarea');
			if (control) control.setAttribute('aria-invalid', 'true');
		}
		const MOST = 6;
		refill(byId('coach-faults'), faults.length === 0 ? null : make('div', { class: 'notice faulty' },
			make('p', {}, 'The coach cannot be worked out like this; the answers are from before.'),
			make('ul', { class: 'faults' }, faults.slice(0, MOST).map((fault) => make('li', {}, fault.path ? [make('code', {}, fault.path), ': '] : null, faultWords(fault), ' ',
				fault.path ? button('Show it', () => this.goTo(fault.path), { class: 'plain small', 'aria-label': `Show ${fault.path}` }) : null))),
			faults.length > MOST ? make('p', {}, `and ${faults.length - MOST} more`) : null));
	}

	/* The two answers beside the form; a fault of the file stands in the form. */
	showVerdicts(found) {
		const bad = found.find(({ response }) => !response.ok && response.faults.some((fault) => fault.line > 0 || fault.path));
		const shore = found.find(({ question }) => question === 'shore');
		this.markFaults(shore && !shore.response.ok ? shore.response.faults : []);
		const lines = found.filter(({ response }) => response.ok && response.answers.length > 0)
			.map(({ question, response }) => ({ question, words: response.answers[0].verdict }));
		if (shore && !shore.response.ok) {
			byId('verdicts').dataset.older = 'true';
			return;
		}
		byId('verdicts').dataset.older = 'false';
		const missing = found.filter(({ question, response }) => question !== 'shore' && !response.ok);
		refill(byId('verdicts'), lines.map(({ question, words }) => make('button', { type: 'button', class: 'verdict-line',
			onclick: () => { this.showSide('answers'); this.answers.show(question); } },
		make('span', { class: 'verdict-of' }, QUESTION_TABS[question].words), ' ', make('span', { dir: 'auto' }, words))),
		missing.map(({ question, response }) => make('p', { class: 'verdict-line' }, make('span', { class: 'verdict-of' }, QUESTION_TABS[question].words), ' ', faultWords(response.faults[0]))));
		if (!bad) say(lines.map(({ words }) => words).join(' '));
	}

	setOlder(isOlder) {
		byId('answer-view').dataset.older = String(isOlder);
	}

	/* ---- dialogs ---- */

	chooseStart() {
		const dialog = openDialog('Start',
			make('p', {}, 'What is here now is one Undo away.'),
			make('div', { class: 'starts' },
				button([make('strong', {}, 'Your coach, blank'), make('span', {}, 'A cord and nothing else: fill in what you see.')], () => { dialog.close(); this.startBlank(); }, { class: 'start main' }),
				button([make('strong', {}, 'A rig file'), make('span', {}, 'One that you saved here or with the command line.')], () => { dialog.close(); askForFile(); }, { class: 'start' }),
				this.demos.map((demo) => button([make('strong', {}, `Demo: ${demo.name}`), make('span', {}, demo.notes || '')], () => { dialog.close(); this.openDemo(demo); }, { class: 'start' }))));
	}

	async startBlank() {
		const blank = await this.quick.ask({ do: 'blank' });
		this.isDemo = false;
		this.fileName = null;
		dismiss('demo');
		dismiss('draft');
		this.history.open(blank.text, 'a blank coach');
		this.history.state.text = null;
		this.showSide('coach');
		this.showCoachTab('quick');
		const first = byId('coach-view').querySelector('input');
		if (first) first.focus();
	}

	settingsDialog() {
		const choose = (name, words, choices) => labelled(words, select({ onchange: (event) => this.setSetting(name, event.target.value) }, choices, this.settings[name]));
		const names = make('input', { type: 'checkbox', onchange: (event) => this.setSetting('keepNames', event.target.checked) });
		names.checked = this.settings.keepNames;
		openDialog('Settings', make('div', { class: 'fields' },
			choose('units', 'Units', [['us', 'feet, Fahrenheit, gallons'], ['si', 'metres, Celsius, litres']]),
			choose('look', 'Look', [['device', 'as the device'], ['light', 'light'], ['dark', 'dark']])),
		make('h3', {}, 'The draft in this browser'),
		make('p', {}, 'Pages opened from files share what a browser keeps. So the draft leaves out the coach\'s name and all notes, unless you want them kept.'),
		make('label', { class: 'tick' }, names, make('span', {}, 'Keep names and notes in the draft, too')),
		make('div', { class: 'actions' }, button('Forget the draft and settings', () => {
			const gone = forgetStored(DRAFT_KEY) && forgetStored(SETTINGS_KEY);
			notify('forgot', gone ? 'The draft and the settings are gone from this browser.' : 'This browser keeps nothing for this page anyway.');
		})));
	}

	setSetting(name, value) {
		this.settings[name] = value;
		const { units, look, keepNames } = this.settings;
		writeStored(SETTINGS_KEY, { units, look, keepNames });
		if (name === 'look') this.setLook();
		if (name === 'units') {
			this.redraw();
			this.answers.changed();
		}
		if (name === 'keepNames') this.keepDraft();
	}

	setLook() {
		document.documentElement.dataset.look = this.settings.look;
	}

	async about() {
		const found = await this.quick.ask({ do: 'version' });
		openDialog('About', make('p', {}, `rigbudget ${found.version}. This page is the whole program: it asks nothing of any network and sends nothing.`),
			make('p', {}, `It contains the GNU Scientific Library ${found.gsl} and cJSON ${found.cjson}.`),
			make('p', {}, `Licence: ${found.licence}. It comes without any warranty.`),
			make('p', {}, 'It adds up and estimates. It does not replace a look by a licensed electrician, and local codes come first.'));
	}
}

let page = null;
if (IS_PAGE) {
	page = new Page();
	page.start().catch((failure) => refill(byId('answer-view'), make('p', { class: 'lead' },
		`This page could not start (${failure.message}). It needs a browser that runs WebAssembly; some phones only show a preview of a saved page.`)));
}
