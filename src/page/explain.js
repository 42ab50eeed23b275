/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.js: what stands behind a figure: its formula, inputs, sources and doubt, one tap away. */

/* Each thing of the sheet that names its explanation gets a button. Its mark is drawn by the style,
 * so that the words of the sheet stay the core's. */
function explainFigures(view) {
	for (const element of view.querySelectorAll('[data-explain]')) {
		const host = element.querySelector(':scope > h2, :scope > h3, :scope > dt, :scope > figcaption') || element;
		host.append(button('', () => explain(element.dataset.explain),
			{ class: 'why', 'aria-label': `How is this worked out: ${host.textContent.trim().slice(0, 80)}` }));
	}
}

function explanation(found) {
	return [make('p', {}, found.what),
		found.formula ? make('p', { class: 'formula' }, found.formula) : null,
		found.inputs && found.inputs.length > 0 ? [make('h3', {}, 'What goes in'), make('ul', {}, found.inputs.map((input) => make('li', {}, input)))] : null,
		found.doubt ? [make('h3', {}, 'How sure it is'), make('p', {}, found.doubt)] : null,
		found.sources && found.sources.length > 0 ? [make('h3', {}, 'Sources'), make('ul', {}, found.sources.map((source) => make('li', {}, `${source.key}: ${source.text}`)))] : null];
}

async function explain(about) {
	const found = await page.quick.ask({ do: 'explain', about });
	if (found.ok) openDialog(found.name, explanation(found));
	else openDialog('How is this worked out?', faultList(found.faults, false));
}

/* All of them, to look through. */
async function explainAll() {
	const found = await page.quick.ask({ do: 'explain' });
	if (!found.ok) {
		openDialog('How is this worked out?', faultList(found.faults, false));
		return;
	}
	openDialog('How is this worked out?', found.all.map((item) => make('details', { class: 'fold' },
		make('summary', {}, item.name), make('div', { class: 'fold-body' }, explanation(item)))));
}
