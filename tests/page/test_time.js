// SPDX-License-Identifier: GPL-3.0-or-later
// Times are printed to be read, not tested: the machine may be busy with other things.
'use strict';

const { visit, visiting, settled, until } = require('./browser.js');

function middle(times) {
	return times.sort((a, b) => a - b)[Math.floor(times.length / 2)];
}

// Stretches in which the page could do nothing else.
function watch() {
	window.longTasks = [];
	new PerformanceObserver((list) => {
		for (const entry of list.getEntries()) window.longTasks.push(Math.round(entry.duration));
	}).observe({ entryTypes: ['longtask'] });
	window.firstFinding = null;
	const look = () => {
		if (document.querySelector('#answer-view .verdict')) window.firstFinding = performance.now();
		else requestAnimationFrame(look);
	};
	requestAnimationFrame(look);
}

// From a change of one load's watts to the new answer on the page, ms.
async function changeTime(page, question, options = {}) {
	await page.evaluate(([name, wishes]) => {
		for (const [key, value] of Object.entries(wishes)) page.setOption(key, value);
		page.answers.show(name);
	}, [question, options]);
	await settled(page);
	const times = [];
	for (let i = 0; i < 9; i++) {
		await page.waitForTimeout(120);
		times.push(await page.evaluate((watts) => new Promise((done) => {
			const started = performance.now();
			const view = document.querySelector('#answer-view');
			page.set(['loads', 0, 'running_w'], watts, {});
			const look = () => {
				if (page.answers.isOlder(page.answers.current) || view.dataset.older === 'true') setTimeout(look, 1);
				else done(performance.now() - started);
			};
			look();
		}), 1200 + i));
	}
	return middle(times);
}

module.exports = {
	'the first finding after opening': async () => {
		const times = [];
		const tasks = [];
		for (let i = 0; i < 5; i++) {
			const visitor = await visit({ before: watch });
			times.push(await until(visitor.page, () => window.firstFinding));
			await settled(visitor.page);
			tasks.push(...await visitor.page.evaluate(() => window.longTasks));
			await visitor.leave();
		}
		console.log(`     first finding: median ${middle(times).toFixed(0)} ms of ${times.map((time) => time.toFixed(0)).join(', ')}; longest task ${Math.max(0, ...tasks)} ms`);
	},

	'a change of one load': visiting({ before: watch }, async (page) => {
		await settled(page);
		await page.evaluate(() => { window.longTasks.length = 0; });
		for (const [question, options] of [['shore', {}], ['solar', {}], ['trip', { trips: 2000 }], ['shed', {}], ['report', {}]])
			console.log(`     ${question} ${JSON.stringify(options)}: ${(await changeTime(page, question, options)).toFixed(0)} ms; longest task so far ${Math.max(0, ...await page.evaluate(() => window.longTasks))} ms`);
	}),
};
