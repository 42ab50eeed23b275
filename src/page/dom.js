/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dom.js: elements made of words. What people typed goes in as text only; markup comes from the
 * core alone, which escapes it, and through one door. */
'use strict';

/* Whether this is the page; else one of its workers, which runs the same script. */
const IS_PAGE = typeof document !== 'undefined';

const coreMarkup = IS_PAGE && window.trustedTypes
	? window.trustedTypes.createPolicy('core', { createHTML: (html) => html, createScriptURL: (url) => url })
	: { createHTML: (html) => html, createScriptURL: (url) => url };

/* make('p', {class: 'note', onclick: f}, 'words', element, ...): null and false are passed over. */
function make(tag, attributes, ...children) {
	const element = document.createElement(tag);
	for (const [name, value] of Object.entries(attributes || {})) {
		if (value === null || value === undefined || value === false) continue;
		if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
		else if (name === 'value') element.value = value;
		else element.setAttribute(name, value === true ? '' : value);
	}
	fill(element, ...children);
	return element;
}

function fill(element, ...children) {
	for (const child of children.flat(Infinity)) {
		if (child === null || child === undefined || child === false) continue;
		element.append(child);
	}
	return element;
}

function refill(element, ...children) {
	element.replaceChildren();
	return fill(element, ...children);
}

function byId(id) {
	return document.getElementById(id);
}

function button(words, onclick, attributes) {
	return make('button', { type: 'button', onclick, ...attributes }, words);
}

function option(value, words, selected) {
	const element = make('option', {}, words);
	element.value = value;
	element.selected = Boolean(selected);
	return element;
}

/* A select; choices are [value, words] or {group, choices}. */
function select(attributes, choices, chosen) {
	const options = (list) => list.map((choice) => choice.group !== undefined
		? make('optgroup', { label: choice.group }, options(choice.choices))
		: option(choice[0], choice[1], choice[0] === chosen));
	return make('select', attributes, options(choices));
}

let idsMade = 0;
function newId() {
	idsMade += 1;
	return `n${idsMade}`;
}

/* A labelled control, the label above it; help and unit may be null. */
function labelled(words, control, unit, help) {
	if (!control.id) control.id = newId();
	const helpId = help ? newId() : null;
	if (help) control.setAttribute('aria-describedby', helpId);
	return make('div', { class: 'field' },
		make('label', { for: control.id }, words),
		make('div', { class: 'entry' }, control, unit ? make('span', { class: 'unit' }, unit) : null),
		help ? make('p', { class: 'help', id: helpId }, help) : null);
}

/* The core's markup as elements, ids kept apart by a prefix. */
function sheetElements(html, prefix) {
	const template = document.createElement('template');
	template.innerHTML = coreMarkup.createHTML(html);
	for (const element of template.content.querySelectorAll('[id],[aria-labelledby],[aria-describedby]'))
		for (const name of ['id', 'aria-labelledby', 'aria-describedby']) {
			const words = element.getAttribute(name);
			if (words) element.setAttribute(name, words.split(' ').map((word) => prefix + word).join(' '));
		}
	return template.content;
}

/* Calls f once things have been still for so many milliseconds. */
function afterStill(ms, f) {
	let timer = 0;
	return (...words) => {
		clearTimeout(timer);
		timer = setTimeout(() => f(...words), ms);
	};
}
