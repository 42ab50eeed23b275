/* SPDX-License-Identifier: GPL-3.0-or-later */
/* engine.js: somebody to ask: a worker with a core in it, or, where no worker may run, the core on
 * the page itself. */

class Cancelled extends Error {}

class Engine {
	/* later: starts with the first question */
	constructor(later) {
		this.waiting = new Map();
		this.n = 0;
		this.worker = null;
		this.core = null;
		if (!later) this.start();
	}

	start() {
		const blob = new Blob([byId('script').textContent], { type: 'text/javascript' });
		const url = URL.createObjectURL(blob);
		try {
			this.worker = new Worker(coreMarkup.createScriptURL(url));
		} catch {
			this.onPage();
			return;
		}
		this.worker.onmessage = ({ data }) => this.hear(data, url);
		this.worker.onerror = () => this.onPage();
		this.worker.postMessage({ module: Engine.compiled || byId('module').textContent });
	}

	hear(data, url) {
		if (data.ready) {
			URL.revokeObjectURL(url);
			Engine.compiled = data.compiled;
			return;
		}
		if (data.failed !== undefined) {
			this.onPage();
			return;
		}
		const asked = this.waiting.get(data.id);
		if (!asked) return;
		if (data.done !== undefined) {
			asked.progress(data.done);
			return;
		}
		this.waiting.delete(data.id);
		asked.resolve(data.response);
	}

	/* No worker: the same on the page itself. */
	onPage() {
		if (this.worker) this.worker.terminate();
		this.worker = null;
		this.core = Engine.pageCore = Engine.pageCore || new Core(byId('module').textContent);
		for (const [id, asked] of this.waiting) {
			this.waiting.delete(id);
			this.core.call(asked.request).then(asked.resolve, asked.reject);
		}
	}

	/* The response to a request; rejects only with Cancelled, or where WebAssembly is missing. */
	ask(request, progress = () => {}) {
		if (!this.core && !this.worker) this.start();
		if (this.core)
			return new Promise((go) => { setTimeout(go, 0); }).then(() => this.core.call(request));
		return new Promise((resolve, reject) => {
			const id = ++this.n;
			this.waiting.set(id, { request, resolve, reject, progress });
			this.worker.postMessage({ id, request });
		});
	}

	/* Ends what is under way. A worker cannot be asked to stop, so it is replaced. */
	cancel() {
		if (!this.worker || this.waiting.size === 0) return;
		this.worker.terminate();
		const left = [...this.waiting.values()];
		this.waiting.clear();
		this.start();
		for (const asked of left) asked.reject(new Cancelled('cancelled'));
	}
}

/* Runs one job at a time, and of those that were asked for meanwhile only the newest. */
class Newest {
	constructor() {
		this.busy = false;
		this.next = null;
	}

	run(job) {
		this.next = job;
		if (!this.busy) this.go();
	}

	async go() {
		this.busy = true;
		let done;
		this.ended = new Promise((end) => { done = end; });
		while (this.next) {
			const job = this.next;
			this.next = null;
			try {
				await job();
			} catch (failure) {
				if (!(failure instanceof Cancelled)) reportFailure(failure);
			}
		}
		this.busy = false;
		done();
	}

	/* Resolves when nothing is under way. */
	async idle() {
		if (this.busy) await this.ended;
	}
}
