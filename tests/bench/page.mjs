// SPDX-License-Identifier: GPL-3.0-or-later
// page.mjs MODULE COACH NATIVE_MS: the study of trips.c in the page's module, reading of the file and
// findings as data included, against the plainest native code. Medians of nine on the processor's clock,
// as there, after five to warm up.
import { readFileSync } from 'node:fs';
import { startCore } from '../bridge/core.mjs';

const [module, coach, native] = process.argv.slice(2);
const core = await startCore(module);
const file = readFileSync(coach, 'utf8');
const median = (options, question = 'trip') => {
	const taken = [];
	for (let round = -5; round < 9; round++) {
		const start = process.cpuUsage();
		if (!core.call({ do: 'answer', question, file, options, as: [] }).includes('"ok": true'))
			throw new Error('the question was refused');
		const { user, system } = process.cpuUsage(start);
		if (round >= 0) taken.push((user + system) / 1000);
	}
	return taken.sort((a, b) => a - b)[4];
};
const print = (what, value, digits = 2) => console.log(what.padEnd(44) + value.toFixed(digits).padStart(10));
const engine = median({ month: 11, days: 14, trips: 10000, side_trips: 0 });
print('the same trips in the page\'s module', engine);
print('module over the plainest native code', engine / Number(native));
print('shore, in the module', median({}, 'shore'));
print('solar, in the module', median({}, 'solar'));
print('a stay of 2,000 trips, in the module', median({ trips: 2000 }));
