/* SPDX-License-Identifier: GPL-3.0-or-later */
/* quick.js: the short form: what anybody can see of a coach in a minute. It edits the same file as
 * the full form does. */

/* The appliances that most coaches have; the others are behind "more". */
const USUAL_APPLIANCES = [
	['Cold and hot', ['roof_ac_13k5', 'roof_ac_15k', 'roof_heat_pump_15k', 'space_heater_hi', 'electric_fireplace', 'water_heater_element', 'furnace_20k', 'furnace_35k']],
	['Kitchen', ['fridge_absorption_control', 'fridge_absorption_ac', 'fridge_12v_large', 'fridge_residential', 'microwave_800', 'microwave_convection', 'coffee_maker', 'toaster', 'induction_single']],
	['Living', ['led_light', 'water_pump', 'roof_vent_fan', 'tv_led_32', 'laptop', 'phone_charging', 'satellite_internet', 'hair_dryer', 'cpap_dry']],
	['Always on', ['lp_detector', 'co_alarm', 'thermostat_board', 'water_heater_board']],
];

const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September',
	'October', 'November', 'December'];

function isChassis(bank) {
	return bank.role === 'chassis' || (bank.role === undefined && bank.chemistry === 'starting');
}

function listOf(name) {
	const items = valueAt(page.history.data, [name]);
	return Array.isArray(items) ? items : [];
}

/* Index of the first house bank or chassis bank, or -1. */
function bankIndex(wantsChassis) {
	return listOf('banks').findIndex((bank) => bank && isChassis(bank) === wantsChassis);
}

function cordChoice() {
	const chosen = valueAt(page.history.data, ['shore', 'cord_a']);
	const words = { 15: 'household plug', 20: 'household plug', 30: 'three prongs', 50: 'four prongs' };
	return make('fieldset', { class: 'segments', 'data-paths': 'shore.cord_a' }, make('legend', {}, 'Shore cord'),
		page.keys.row('shore', 'cord_a').choices.map(Number).map((amps) => {
			const radio = make('input', { type: 'radio', name: 'cord', value: String(amps),
				onchange: () => page.set(['shore', 'cord_a'], amps, {}) });
			radio.checked = chosen === amps;
			return make('label', {}, radio, make('span', {}, make('strong', {}, `${amps} A`), ` ${words[amps] || ''}`));
		}));
}

function placeChoice() {
	const site = valueAt(page.history.data, ['place']) || {};
	const input = placeInput(typeof site.name === 'string' ? site.name : '', (words) => {
		page.set(words.trim() === '' ? ['place'] : ['place', 'name'], words.trim() === '' ? undefined : words, { merge: 'place', from: input });
	});
	const field = labelled('Town nearest to where it stands', input, null, 'For the sun and the weather. Left empty, the answers about solar and stays wait.');
	field.dataset.paths = 'place.name place';
	field.append(input.proposals, make('p', { class: 'fault' }));
	return field;
}

function monthChoice() {
	return labelled('Month of the stay', select({ onchange: (event) => page.setOption('month', Number(event.target.value) || undefined) },
		[['', 'as usual (July; solar all year)'], ...MONTHS.map((name, i) => [String(i + 1), name])], String(page.settings.options.month || '')));
}

/* What the battery is, and how much of it. */
function batteryChoice() {
	const i = bankIndex(false);
	const kinds = page.lists.batteries.filter(([id]) => id !== 'ideal' && id !== 'starting');
	const kind = select({ onchange: (event) => setBattery(i, event.target.value) },
		[['', 'none that anybody knows of'], ...kinds], i < 0 ? '' : String(listOf('banks')[i].chemistry));
	const at = ['banks', i];
	return make('fieldset', {}, make('legend', {}, 'House battery'), make('div', { class: 'fields' },
		labelled('Kind', kind),
		i < 0 ? null : [fieldFor(page.keys.row('bank', 'capacity_ah'), at, 'bank', 'Amp-hours on one battery'),
			fieldFor(page.keys.row('bank', 'parallel'), at, 'bank', 'Batteries side by side')]));
}

function setBattery(i, chemistry) {
	const { data } = page.history;
	if (chemistry === '') {
		removeItem({ object: 'bank' }, ['banks', i]);
		return;
	}
	const changed = i >= 0 ? withValue(data, ['banks', i, 'chemistry'], chemistry)
		: withValue(data, ['banks', listOf('banks').length],
			{ id: freeId(listOf('banks'), 'house'), role: 'house', chemistry, capacity_ah: 80 });
	page.restructure(changed, 'the battery');
}

function solarChoice() {
	const array = listOf('solar')[0];
	const bank = array && listOf('banks').find((item) => item && item.id === array.bank);
	const feeds = !array ? '' : (bank && isChassis(bank) ? 'chassis' : 'house');
	const kind = select({ onchange: (event) => setSolar(event.target.value) },
		[['', 'none'], ['house', 'charges the house battery'], ['chassis', 'charges the starting battery']], feeds);
	const at = ['solar', 0];
	return make('fieldset', {}, make('legend', {}, 'Solar'), make('div', { class: 'fields' },
		labelled('Panel on the roof', kind),
		!array ? null : [
			fieldFor(page.keys.row('array', 'watts_w'), at, 'array', 'Watts on the label of one panel'),
			fieldFor(page.keys.row('array', 'count'), at, 'array', 'How many panels')]),
	!array ? null : foldout('quick-size', 'No label to read? Measure the frame', () => make('div', { class: 'fields' },
		fieldFor(page.keys.row('array', 'length_m'), at, 'array', 'Length of one panel'),
		fieldFor(page.keys.row('array', 'width_m'), at, 'array', 'Width of one panel'),
		make('p', { class: 'help' }, 'Leave the watts empty then: they come from the size, with their doubt.'))),
	!array ? make('p', { class: 'help' }, 'Which battery it charges decides what it is worth: follow the wires, or ask.') : null);
}

/* An array's bank of the asked kind; it is made where there is none. */
function setSolar(feeds) {
	let { data } = page.history;
	if (feeds === '') {
		page.restructure(withValue(data, ['solar'], listOf('solar').length > 1 ? listOf('solar').slice(1) : undefined), 'the solar panel');
		return;
	}
	let i = bankIndex(feeds === 'chassis');
	if (i < 0) {
		i = listOf('banks').length;
		data = withValue(data, ['banks', i], feeds === 'chassis'
			? { id: freeId(listOf('banks'), 'chassis'), role: 'chassis', chemistry: 'starting', capacity_ah: { low: 55, likely: 85, high: 135, from: 'estimated' } }
			: { id: freeId(listOf('banks'), 'house'), role: 'house', chemistry: 'flooded', capacity_ah: 80 });
	}
	const bank = valueAt(data, ['banks', i, 'id']);
	data = listOf('solar').length > 0 ? withValue(data, ['solar', 0, 'bank'], bank)
		: withValue(data, ['solar'], [{ id: 'roof', bank, watts_w: 100 }]);
	page.restructure(data, 'the solar panel');
}

function loadsOf(profile) {
	return listOf('loads').map((load, i) => ({ load, i })).filter(({ load }) => load && load.profile === profile);
}

function applianceTick(profile) {
	const row = page.appliances.get(profile);
	if (!row) return null;
	const mine = loadsOf(profile);
	const tick = make('input', { type: 'checkbox', onchange: (event) => toggleAppliance(profile, event.target.checked) });
	tick.checked = mine.length > 0;
	const first = mine[0];
	return make('div', { class: 'appliance' },
		make('label', { class: 'tick' }, tick, make('span', {}, row.what, make('small', {}, ` ${row.on}, ${row.watts} W`))),
		!first ? null : make('input', { type: 'text', inputmode: 'numeric', class: 'number how-many', 'aria-label': `How many: ${row.what}`,
			value: String(first.load.count === undefined ? 1 : first.load.count), autocomplete: 'off',
			onchange: () => page.history.settle(),
			oninput: (event) => page.set(['loads', first.i, 'count'], numberTyped(event.target.value), { merge: `count ${profile}`, from: tick }) }));
}

function toggleAppliance(profile, isOn) {
	let { data } = page.history;
	const loads = listOf('loads');
	if (isOn) data = withValue(data, ['loads'], [...loads, { id: freeId(loads, profile), profile }]);
	else for (const { load } of loadsOf(profile)) {
		data = withValue(data, ['loads'], valueAt(data, ['loads']).filter((other) => other.id !== load.id));
		data = page.keys.withReferences(data, 'loads', load.id, undefined);
	}
	page.restructure(data, `${isOn ? 'added' : 'removed'} ${page.appliances.get(profile).what}`);
}

function applianceTicks() {
	const usual = new Set(USUAL_APPLIANCES.flatMap(([, ids]) => ids));
	const others = [...page.appliances.keys()].filter((id) => !usual.has(id));
	return make('fieldset', { class: 'appliances' }, make('legend', {}, 'What is on board'),
		USUAL_APPLIANCES.map(([group, ids]) => make('div', { class: 'appliance-group', role: 'group', 'aria-label': group },
			make('h3', {}, group), ids.map(applianceTick))),
		foldout('quick-more', `${others.length} more appliances`, () => make('div', { class: 'appliance-group' }, others.map(applianceTick))));
}

function drawQuick(view) {
	refill(view, make('h2', {}, 'The coach in a minute'),
		make('p', { class: 'lead' }, 'Say what you can see. The rest is filled from tables, with its doubt; every change shows beside.'),
		fieldFor(page.keys.row(page.keys.coach.name, 'name'), [], page.keys.coach.name, 'What do you call the coach?'),
		cordChoice(),
		make('fieldset', {}, make('legend', {}, 'Where and when'), make('div', { class: 'fields' }, placeChoice(), monthChoice())),
		batteryChoice(), solarChoice(), applianceTicks(),
		make('p', { class: 'help' }, 'Breakers, wires, meter readings and use by the hour have their own tabs.'));
}
