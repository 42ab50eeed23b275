/* SPDX-License-Identifier: GPL-3.0-or-later */
/* worker.js: the script's other life: a worker that holds a core and answers what it is sent, one
 * after another, and says how far it is. */

function runAsWorker() {
	let core = null;
	let queue = Promise.resolve();
	const answer = async ({ id, request }) => {
		const started = performance.now();
		let told = started;
		core.progress = (done) => {
			const now = performance.now();
			if (now - told > 60) {
				told = now;
				postMessage({ id, done });
			}
			return 1;
		};
		const response = await core.call(request);
		postMessage({ id, response, ms: performance.now() - started });
	};
	onmessage = ({ data }) => {
		if (data.module !== undefined) {
			core = new Core(data.module);
			queue = queue.then(() => core.ready()).then(
				() => postMessage({ ready: true, compiled: core.compiled }),
				(failure) => postMessage({ failed: failure.message }));
		} else {
			queue = queue.then(() => answer(data));
		}
	};
}

if (!IS_PAGE) runAsWorker();
