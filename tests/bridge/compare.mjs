// SPDX-License-Identifier: GPL-3.0-or-later
// compare.mjs MODULE NATIVE: puts the same requests to the module and to the native bridge. Whatever
// is shown must be the same to the last digit; figures behind it may differ by TOLERANCE, since the
// two C libraries round the last bit of exp, log, sin and pow differently (one part in 1e15 each; sums of
// thousands of them, and a root found between, stay far below).
import { spawnSync } from 'node:child_process';
import { startCore } from './core.mjs';

const TOLERANCE = 1e-11;
const [module, native] = process.argv.slice(2);
const core = await startCore(module);

const coaches = JSON.parse(core.call({ do: 'demo' })).coaches;
const questions = JSON.parse(core.call({ do: 'questions' })).questions.map((row) => row.name);
const as = ['html', 'text', 'data'];
const requests = [{ do: 'demo' }, { do: 'keys' }, { do: 'questions' }, { do: 'blank' }, { do: 'style' },
	{ do: 'new', name: 'A', cord: 50, panel_w: 100, panel_bank: 'chassis' },
	{ do: 'find_place', name: 'flagstaff' }, { do: 'find_place', name: 'Flagstfaf' },
	{ do: 'no-such' }, { do: 'check' }, { do: 'check', file: '{"format": 1}' }, { do: 'check', file: '\u0001' }];
for (const what of ['appliances', 'places', 'batteries', 'panels', 'supplies', 'conductors', 'ratings'])
	requests.push({ do: 'list', what });
for (const { text: file } of coaches) {
	requests.push({ do: 'check', file }, { do: 'write', file }, { do: 'budget', file });
	requests.push({ do: 'budget', file, supply: '30A', on: [] });
	for (const question of questions) {
		requests.push({ do: 'answer', question, file, as });
		requests.push({ do: 'answer', question, file, as, options: { month: 12, day: 'cold' }, units: 'si' });
	}
	requests.push({ do: 'answer', question: 'trip', file, as, options: { month: 1, days: 30, trips: 2000, seed: 9 } });
	requests.push({ do: 'whole', question: 'shore', file, format: 'html' });
}

const ran = spawnSync(native, { input: requests.map((r) => JSON.stringify(r) + '\n').join(''), maxBuffer: 1 << 30 });
if (ran.status !== 0) throw new Error(`the native bridge ended with ${ran.status}`);
const answers = ran.stdout.toString('utf8').split('\0');

let worst = 0, n = 0, faults = 0;
const differ = (where, a, b) => {
	faults++;
	const shorten = (x) => (JSON.stringify(x) ?? 'nothing').slice(0, 200);
	console.error(`${where}: ${shorten(a)} here, ${shorten(b)} natively`);
};
function compareText(where, a, b) {
	if (a === b) return;
	let i = 0;
	while (i < a.length && a[i] === b[i]) i++;
	differ(`${where} at ${i}`, a.slice(Math.max(0, i - 60), i + 60), b.slice(Math.max(0, i - 60), i + 60));
}
function compare(where, a, b) {
	if (typeof a === 'number' && typeof b === 'number') {
		n++;
		const apart = Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b), 1e-3);
		if (a !== b) worst = Math.max(worst, apart);
		if (a !== b && !(apart <= TOLERANCE)) differ(where, a, b);
	} else if (typeof a === 'string' && typeof b === 'string') {
		compareText(where, a, b);
	} else if (a === null || b === null || typeof a !== 'object' || typeof b !== 'object') {
		if (a !== b) differ(where, a, b);
	} else {
		const keys = Object.keys(a);
		if (keys.join() !== Object.keys(b).join()) differ(where, keys, Object.keys(b));
		else for (const key of keys) compare(`${where}.${key}`, a[key], b[key]);
	}
}
requests.forEach((request, i) => {
	const { file, ...rest } = request;
	compare(JSON.stringify(rest).slice(0, 90), JSON.parse(core.call(request)), JSON.parse(answers[i]));
});
console.log(`${module.split('/').pop()}: ${requests.length} requests, ${n} figures, at most ${worst.toExponential(1)} apart`);
if (faults > 0 || n < 10000) process.exit(1);
