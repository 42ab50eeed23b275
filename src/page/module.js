/* SPDX-License-Identifier: GPL-3.0-or-later */
/* module.js: the core as WebAssembly: text in, text out. A module that failed is not asked again:
 * the next question gets a new one. */

/* What the module asks of its surroundings: progress, and nothing else. Its C library brings calls
 * for files; there are none. */
function surroundings(compiled, progress) {
	const NO_SUCH_CALL = 52;
	const imports = {};
	for (const { module, name } of WebAssembly.Module.imports(compiled)) {
		imports[module] = imports[module] || {};
		imports[module][name] = () => NO_SUCH_CALL;
	}
	if (imports.rig) imports.rig.progress = progress;
	const wasi = imports.wasi_snapshot_preview1;
	if (wasi && wasi.proc_exit)
		wasi.proc_exit = () => { throw new Error('the core stopped'); };
	return imports;
}

class Core {
	/* from: the modules as the page carries them (unpack.js), or one that is compiled already */
	constructor(from) {
		this.base64 = typeof from === 'string' ? from : '';
		this.compiled = typeof from === 'string' ? null : from;
		this.instance = null;
		this.progress = () => 1;
	}

	async ready() {
		if (!this.compiled) {
			this.compiled = await compileModule(this.base64);
			this.base64 = '';
		}
		if (this.instance) return;
		const imports = surroundings(this.compiled, (done) => this.progress(done));
		this.instance = await WebAssembly.instantiate(this.compiled, imports);
		this.instance.exports._initialize();
	}

	/* One request, a plain object; the response is one, too. */
	async call(request) {
		await this.ready();
		try {
			return JSON.parse(this.exchange(JSON.stringify(request)));
		} catch (failure) {
			this.instance = null;
			return { ok: false, faults: [{ path: '', line: 0, column: 0, text: brokenWords(failure) }] };
		}
	}

	exchange(text) {
		const { memory, rig_page_alloc, rig_page_release, rig_page_call } = this.instance.exports;
		const request = new TextEncoder().encode(text);
		const room = rig_page_alloc(request.length) >>> 0;
		if (room === 0) throw new Error('memory is out');
		new Uint8Array(memory.buffer).set(request, room);
		const response = rig_page_call(room, request.length) >>> 0;
		rig_page_release(room);
		if (response === 0) throw new Error('memory is out');
		const all = new Uint8Array(memory.buffer);
		const words = new TextDecoder().decode(all.subarray(response, all.indexOf(0, response)));
		rig_page_release(response);
		return words;
	}
}

function brokenWords(failure) {
	return `The page's own working failed on this (${failure.message}). Your coach is kept; undo the last ` +
		'change, or save the file and open the page anew.';
}
