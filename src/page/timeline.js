/* SPDX-License-Identifier: GPL-3.0-or-later */
/* timeline.js: an answer along its time: a slider to go through the day of shedding or the hours of
 * a stay, and what holds at that moment. Looked up, not worked out: the core has said it all. */

const STATE_WORDS = { runs: 'runs', held_off: 'held off', dropped: 'switched off' };

function clockWords(seconds) {
	const minutes = Math.floor(seconds / 60);
	return `${String(Math.floor(minutes / 60) % 24).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

/* The last of the points that is not later. */
function pointAt(points, at) {
	let found = points[0];
	for (const point of points) {
		if (point.at_s > at) break;
		found = point;
	}
	return found;
}

class Timeline {
	constructor(box, kind) {
		this.box = box;
		this.kind = kind;
		this.at = null;
	}

	show(data) {
		const view = this.kind === 'shed' ? shedView(data) : tripView(data);
		if (!view) {
			refill(this.box);
			return;
		}
		if (this.at === null || this.at > view.last) this.at = view.start;
		const slider = make('input', { type: 'range', min: '0', max: String(view.last), step: String(view.step), value: String(this.at),
			id: newId(), oninput: () => { this.at = Number(slider.value); this.tell(slider, view); } });
		this.now = make('div', { class: 'now' });
		const toggle = make('details', { class: 'timeline', open: this.isOpen !== false },
			make('summary', {}, view.title),
			make('div', { class: 'track' }, view.picture, make('label', { for: slider.id, class: 'unseen' }, view.title), slider,
				make('div', { class: 'ticks-row', 'aria-hidden': 'true' }, view.marks.map((mark) => make('span', {}, mark)))),
			this.now);
		toggle.addEventListener('toggle', () => { this.isOpen = toggle.open; });
		refill(this.box, toggle);
		this.tell(slider, view);
	}

	tell(slider, view) {
		const { words, elements } = view.moment(this.at);
		slider.setAttribute('aria-valuetext', words);
		slider.parentElement.style.setProperty('--at', String(this.at));
		slider.parentElement.style.setProperty('--last', String(view.last));
		refill(this.now, elements);
	}
}

/* One lane a load: bars where it runs or is switched off. */
function shedView({ shed, loads }) {
	if (!shed || !shed.shown || shed.shown.spans.length === 0) return null;
	const DAY_S = 86400;
	const { spans, points } = shed.shown;
	const names = new Map((loads || []).map((load) => [load.id, load.name || load.id]));
	const ids = [...new Set(spans.map((span) => span.load))];
	const nameOfLoad = (id) => names.get(id) || (id === 'charger' ? 'Battery charger' : id);
	const picture = make('div', { class: 'lanes', 'aria-hidden': 'true' }, ids.map((id) => make('div', { class: 'lane' },
		make('span', { class: 'lane-name', dir: 'auto' }, nameOfLoad(id)),
		make('span', { class: 'lane-line' }, spans.filter((span) => span.load === id).map((span) => {
			const bar = make('i', { class: span.state });
			bar.style.setProperty('--from', String(span.from_s));
			bar.style.setProperty('--to', String(span.to_s));
			return bar;
		})))));
	const moment = (at) => {
		const state = new Map(ids.map((id) => [id, 'off']));
		for (const span of spans)
			if (span.from_s <= at && at < span.to_s) state.set(span.load, STATE_WORDS[span.state] || span.state);
		const point = pointAt(points, at);
		const amps = point ? point.amps_a : [];
		const running = [...state].filter(([, word]) => word !== 'off').map(([id, word]) => `${nameOfLoad(id)} ${word}`);
		const ampWords = amps.map((value, hot) => `${amps.length > 1 ? `L${hot + 1} ` : ''}${rounded(value)} A`).join(', ');
		return {
			words: `${clockWords(at)}: ${ampWords} of ${shed.rating_a} A; ${running.join(', ') || 'nothing runs'}`,
			elements: [make('p', {}, make('strong', {}, clockWords(at)), ` ${ampWords} of ${shed.rating_a} A on each hot wire`),
				make('ul', { class: 'states' }, [...state].map(([id, word]) => make('li', { 'data-state': word }, make('span', { dir: 'auto' }, nameOfLoad(id)), make('b', {}, ` ${word}`))))],
		};
	};
	return { title: 'Go through the day', last: DAY_S, step: 300, start: 61200, picture, moment,
		marks: ['0:00', '6:00', '12:00', '18:00', '24:00'] };
}

const SVG = 'http://www.w3.org/2000/svg';

/* What is left in the battery by hour, as the core has it. */
function tripView({ trip }) {
	if (!trip) return null;
	const bank = trip.banks.find((item) => item.id === trip.main_bank) || trip.banks[0];
	if (!bank || !Array.isArray(bank.left_wh) || bank.left_wh.length < 2) return null;
	const last = bank.left_wh.length - 1;
	const isYear = trip.options.month === null;
	const picture = document.createElementNS(SVG, 'svg');
	picture.setAttribute('viewBox', `0 0 ${last} ${Math.ceil(Math.max(...bank.left_wh, 1))}`);
	picture.setAttribute('preserveAspectRatio', 'none');
	picture.setAttribute('aria-hidden', 'true');
	picture.setAttribute('class', 'left-line');
	const line = document.createElementNS(SVG, 'polyline');
	line.setAttribute('points', bank.left_wh.map((wh, hour) => `${hour},${wh}`).join(' '));
	line.setAttribute('vector-effect', 'non-scaling-stroke');
	picture.append(line);
	const moment = (hour) => {
		const when = `day ${Math.floor(hour / 24) + 1}, ${clockWords((hour % 24) * 3600)}`;
		const left = `${rounded(bank.left_wh[hour])} Wh left of ${rounded(bank.usable_wh.likely)} Wh`;
		const short = bank.short_frac && bank.short_frac[hour] > 0 ? '; something goes without' : '';
		const chance = courseWords(trip, hour);
		return { words: `${when}: ${left}${short}`,
			elements: [make('p', {}, make('strong', {}, capital(when)), `: ${left} that may be used${short}.`), chance ? make('p', {}, chance) : null] };
	};
	const marks = isYear ? ['the first hour', 'the last hour'] : ['first day', `day ${trip.options.n_days}`];
	return { title: 'Go through the stay', last, step: 1, start: 18, picture, moment, marks };
}

/* Of the random stays: the charge that nine of ten still have. */
function courseWords(trip, hour) {
	if (!trip.chance || !Array.isArray(trip.chance.charge_frac)) return null;
	const { share, charge_frac } = trip.chance;
	const at = (wanted) => {
		const i = share.findIndex((value) => Math.abs(value - wanted) < 0.001);
		return i < 0 || !Array.isArray(charge_frac[i]) ? undefined : charge_frac[i][hour];
	};
	const [low, middle] = [at(0.05), at(0.5)];
	if (low === undefined || middle === undefined) return null;
	const percent = new Intl.NumberFormat('en-US', { style: 'percent', maximumFractionDigits: 0 });
	return `Of ${trip.chance.n_trips} random stays half have ${percent.format(middle)} of the charge or more at this hour; one in twenty has less than ${percent.format(low)}.`;
}
