/* SPDX-License-Identifier: GPL-3.0-or-later */
/* history.js: the coach in hand and all that it was before: undo without an end. A file that was
 * opened keeps its very bytes until it is changed. */

class History {
	constructor() {
		this.states = [{ data: null, text: null, label: '' }];
		this.at = 0;
		this.merging = null;
		this.listeners = [];
	}

	get state() { return this.states[this.at]; }
	get data() { return this.state.data; }
	/* The coach as text for the core: the file's own while it is as it was opened. */
	get text() {
		const state = this.state;
		if (state.text !== null) return state.text;
		state.made = state.made || JSON.stringify(state.data);
		return state.made;
	}
	get isAsOpened() { return this.state.text !== null; }
	get canUndo() { return this.at > 0; }
	get canRedo() { return this.at < this.states.length - 1; }

	/* A whole file; it can be undone like any change. */
	open(text, label) {
		const data = JSON.parse(text.replace(/^\uFEFF/, ''));
		if (this.states.length === 1 && this.data === null) this.states = [];
		this.push({ data, text, label }, null);
		this.tell({ whole: true });
	}

	/* merge: changes with the same word that follow each other are undone together. */
	change(data, label, merge, from) {
		if (data === this.data) return;
		if (merge && merge === this.merging && this.at === this.states.length - 1 && this.state.text === null)
			this.states[this.at] = { data, text: null, label };
		else this.push({ data, text: null, label }, merge);
		this.tell({ from });
	}

	push(state, merge) {
		this.states.length = Math.min(this.states.length, this.at + 1);
		this.states.push(state);
		this.at = this.states.length - 1;
		this.merging = merge;
	}

	/* The next change is a step of its own. */
	settle() { this.merging = null; }

	undo() { return this.go(-1); }
	redo() { return this.go(1); }

	go(step) {
		const at = this.at + step;
		if (at < 0 || at >= this.states.length) return null;
		const label = step < 0 ? this.state.label : this.states[at].label;
		this.at = at;
		this.merging = null;
		this.tell({ whole: true });
		return label;
	}

	tell(what) {
		for (const listener of this.listeners) listener(what);
	}
}
