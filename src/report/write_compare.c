/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two coaches side by side: what differs in the files, which answers change, the main figures. */
#include <string.h>

#include "rigbudget/profile.h"
#include "writer.h"

enum { FIGURE_COLUMNS = 3, CHANGE_COLUMNS = 4, MOST_ROWS = 400 };

static const char *name_of(rig_writer *writer, const rig_coach *coach)
{
	writer->coach = coach;
	return rig_coach_said(writer);
}

static bool same_name(const rig_comparison *it)
{
	const char *a = it->before.coach->name, *b = it->after.coach->name;
	return (a == NULL) == (b == NULL) && (a == NULL || strcmp(a, b) == 0);
}

/* ---- answers ---- */

static const rig_block *answer_of(const rig_document *document, const char *question)
{
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_ANSWER && strcmp(block->head, question) == 0)
			return block;
	}
	return NULL;
}

typedef struct {
	const char *question;
	const rig_block *before, *after; /* NULL where it was not answered */
} answer_pair;

static bool changes_verdict(const answer_pair *pair)
{
	return pair->before == NULL || pair->after == NULL ||
	       strcmp(pair->before->verdict, pair->after->verdict) != 0;
}

/* The later one's answers in order, then those that only the earlier one has. */
static size_t pair_answers(const rig_comparison *it, answer_pair *pairs, size_t room)
{
	size_t n = 0;
	for (size_t i = 0; i < rig_document_n_blocks(it->after.sheet) && n < room; i++) {
		const rig_block *block = rig_document_block_at(it->after.sheet, i);
		if (block->kind == RIG_BLOCK_ANSWER)
			pairs[n++] = (answer_pair){
				block->head, answer_of(it->before.sheet, block->head), block};
	}
	for (size_t i = 0; i < rig_document_n_blocks(it->before.sheet) && n < room; i++) {
		const rig_block *block = rig_document_block_at(it->before.sheet, i);
		if (block->kind == RIG_BLOCK_ANSWER &&
			answer_of(it->after.sheet, block->head) == NULL)
			pairs[n++] = (answer_pair){block->head, block, NULL};
	}
	return n;
}

static void write_pair(rig_writer *writer, const answer_pair *pair)
{
	static const char *const NOTHING = "not answered: the file lacks what it takes";
	rig_add_heading(writer->document, 3, "%s", pair->question);
	rig_add_fact(writer->document, "Before",
		pair->before != NULL ? pair->before->verdict : NOTHING, "");
	rig_add_fact(writer->document, "After",
		pair->after != NULL ? pair->after->verdict : NOTHING, "");
}

static void write_pairs(rig_writer *writer, size_t n, const answer_pair *pairs)
{
	bool any = false;
	for (size_t i = 0; i < n; i++) {
		if (!changes_verdict(&pairs[i]))
			continue;
		if (!any)
			rig_add_heading(writer->document, 2, "Answers that change");
		any = true;
		write_pair(writer, &pairs[i]);
	}
	any = false;
	for (size_t i = 0; i < n; i++) {
		if (changes_verdict(&pairs[i]))
			continue;
		if (!any)
			rig_add_heading(writer->document, 2, "Answers that stay");
		any = true;
		rig_add_fact(writer->document, pairs[i].question, pairs[i].after->verdict, "");
	}
}

static void put_pairs(rig_writer *writer, cJSON *data, size_t n, const answer_pair *pairs)
{
	cJSON *list = rig_json_add_array(&writer->maker, data, "answers_changed");
	for (size_t i = 0; i < n; i++) {
		if (!changes_verdict(&pairs[i]))
			continue;
		cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
		rig_json_add_text(&writer->maker, object, "question", pairs[i].question);
		rig_json_add_text(&writer->maker, object, "before",
			pairs[i].before != NULL ? pairs[i].before->verdict : NULL);
		rig_json_add_text(&writer->maker, object, "after",
			pairs[i].after != NULL ? pairs[i].after->verdict : NULL);
	}
}

/* ---- main figures ---- */

static const struct {
	const char *key, *said;
} EFFECTS[RIG_N_EFFECTS] = {
	[RIG_EFFECT_LEG_AMPS] = {"leg_amps", "amps on the fuller hot"},
	[RIG_EFFECT_COACH_VOLTS] = {"coach_volts", "volts at the coach"},
	[RIG_EFFECT_HARVEST] = {"harvest", "what the sun brings in the poorest month"},
	[RIG_EFFECT_STANDING] = {"standing", "what the battery loses standing still"},
	[RIG_EFFECT_USE] = {"use", "the day's use"},
	[RIG_EFFECT_USABLE] = {"usable", "what the full battery gives"},
	[RIG_EFFECT_DAYS_WITH] = {"days_with", "time until the battery gives out"},
	[RIG_EFFECT_DAYS_WITHOUT] = {"days_without", "the same without the panel"},
};

static const char *effect_name(rig_writer *writer, const rig_effect *effect)
{
	const char *said = EFFECTS[effect->kind].said;
	if (effect->supply == NULL)
		return rig_capital(writer, said);
	const rig_supply *supply = rig_supply_find(effect->supply);
	const char *label =
		supply != NULL ? rig_said(writer, "%.0f A", supply->breaker_a) : effect->supply;
	return effect->set != NULL ? rig_said(writer, "\"%s\" on %s: %s", effect->set, label, said)
				   : rig_said(writer, "Everything on %s: %s", label, said);
}

/* Volts of two coaches differ in the third digit. */
static const char *three_digits(rig_writer *writer, rig_figure figure, const char *unit)
{
	rig_buffer words = {0};
	rig_amount_round(&words, figure.likely, 3);
	if (figure.low < figure.high) {
		rig_buffer_add(&words, " (");
		rig_amount_span(&words, figure.low, figure.high, 3);
		rig_buffer_add(&words, ")");
	}
	rig_buffer_format(&words, " %s", unit);
	return rig_said_buffer(writer, &words);
}

static const char *effect_value(rig_writer *writer, const rig_effect *effect, bool after)
{
	const rig_figure figure = after ? effect->after : effect->before;
	const int month = after ? effect->after_month : effect->before_month;
	if (!rig_figure_given(figure))
		return "none";
	if (strcmp(effect->unit, "days") == 0)
		return rig_days_said(writer, figure, RIG_TRIP_DAYS_MAX);
	const char *unit = strcmp(effect->unit, "Wh/day") == 0 ? "Wh a day" : effect->unit;
	const char *said = three_digits(writer, figure, unit);
	if (effect->has_verdicts)
		return rig_said(writer, "%s: %s", said,
			rig_shore_verdict_text(
				after ? effect->after_verdict : effect->before_verdict));
	return month < 0 ? said : rig_said(writer, "%s (%s)", said, RIG_MONTH_SHORT[month]);
}

/* Supplies larger than either cord tell a buyer nothing; the data have them. */
static bool is_told(const rig_comparison *it, const rig_effect *effect)
{
	const int was = it->before.coach->cord_a, is = it->after.coach->cord_a;
	const rig_supply *supply = effect->supply != NULL ? rig_supply_find(effect->supply) : NULL;
	const int cord = was > is ? was : is;
	return rig_effect_differs(effect) &&
	       (supply == NULL || cord <= 0 || supply->breaker_a <= cord);
}

static void write_effects(rig_writer *writer, const rig_comparison *it)
{
	static const rig_column COLUMNS[FIGURE_COLUMNS] = {{"figure", "", RIG_ALIGN_LEFT},
		{"before", "", RIG_ALIGN_LEFT}, {"after", "", RIG_ALIGN_LEFT}};
	const rig_effects *effects = it->effects;
	const char **cells =
		rig_arena_take(writer->arena, effects->n * FIGURE_COLUMNS + 1, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0, n_same = 0;
	for (size_t i = 0; i < effects->n; i++) {
		const rig_effect *effect = &effects->rows[i];
		n_same += !rig_effect_differs(effect);
		if (!is_told(it, effect))
			continue;
		cells[n * FIGURE_COLUMNS] = effect_name(writer, effect);
		cells[n * FIGURE_COLUMNS + 1] = effect_value(writer, effect, false);
		cells[n * FIGURE_COLUMNS + 2] = effect_value(writer, effect, true);
		n++;
	}
	rig_add_heading(writer->document, 2, "Main figures: likely (low to high)");
	if (n == 0) {
		rig_add_paragraph(writer->document, "None of them changes.");
		return;
	}
	rig_add_table(writer->document, &(rig_table){"", FIGURE_COLUMNS, n, COLUMNS, cells});
	if (n_same > 0)
		rig_add_paragraph(writer->document, "%zu other main figure%s the same.", n_same,
			n_same == 1 ? " stays" : "s stay");
}

static void put_effects(rig_writer *writer, cJSON *data, const rig_effects *effects)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *list = rig_json_add_array(maker, data, "effects");
	for (size_t i = 0; i < effects->n; i++) {
		const rig_effect *effect = &effects->rows[i];
		cJSON *object = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, object, "kind", EFFECTS[effect->kind].key);
		rig_json_add_text(maker, object, "set", effect->set);
		rig_json_add_text(maker, object, "supply", effect->supply);
		rig_json_add_truth(maker, object, "differs", rig_effect_differs(effect));
		rig_put_figure(writer, object, "before", effect->before, effect->unit);
		rig_put_figure(writer, object, "after", effect->after, effect->unit);
		if (effect->before_month >= 0)
			rig_put_index(writer, object, "before_month", effect->before_month + 1);
		if (effect->after_month >= 0)
			rig_put_index(writer, object, "after_month", effect->after_month + 1);
		if (!effect->has_verdicts)
			continue;
		rig_json_add_text(maker, object, "before_verdict",
			rig_shore_verdict_text(effect->before_verdict));
		rig_json_add_text(maker, object, "after_verdict",
			rig_shore_verdict_text(effect->after_verdict));
	}
}

/* ---- the files ---- */

static const char *value_said(
	rig_writer *writer, const rig_change *change, const rig_change_value *value)
{
	if (!value->given)
		return "not stated";
	if (value->text != NULL)
		return value->text;
	const char *said = rig_amount_full(writer->arena, value->figure, change->unit);
	return value->figure.from == RIG_FROM_STATED
		       ? said
		       : rig_said(writer, "%s, %s", said, rig_origin_said(value->figure.from));
}

static bool is_whole(const rig_change *change)
{
	return !change->before.given && !change->after.given;
}

static void fill_change(rig_writer *writer, const rig_change *change, const char **cells)
{
	cells[0] = change->thing[0] != '\0' ? change->thing : "the coach";
	cells[1] = is_whole(change) ? change->path
				    : rig_said(writer, "%s: %s", change->what, change->path);
	cells[2] = is_whole(change) ? (change->kind == RIG_CHANGE_ADDED ? "not there" : "there")
				    : value_said(writer, change, &change->before);
	cells[3] = is_whole(change) ? (change->kind == RIG_CHANGE_ADDED ? "there" : "not there")
				    : value_said(writer, change, &change->after);
}

static void write_changes(rig_writer *writer, const rig_changes *changes)
{
	static const rig_column COLUMNS[CHANGE_COLUMNS] = {{"of", "", RIG_ALIGN_LEFT},
		{"what", "", RIG_ALIGN_LEFT}, {"before", "", RIG_ALIGN_LEFT},
		{"after", "", RIG_ALIGN_LEFT}};
	const size_t n = changes->n < MOST_ROWS ? changes->n : MOST_ROWS;
	if (n == 0)
		return;
	const char **cells = rig_arena_take(writer->arena, n * CHANGE_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < n; i++)
		fill_change(writer, &changes->rows[i], cells + i * CHANGE_COLUMNS);
	rig_add_heading(writer->document, 2, "What differs in the files");
	rig_add_table(writer->document, &(rig_table){"", CHANGE_COLUMNS, n, COLUMNS, cells});
	if (n < changes->n)
		rig_add_paragraph(
			writer->document, "And %zu more; the JSON has them all.", changes->n - n);
}

static void put_value(rig_writer *writer, cJSON *object, const char *key, const rig_change *change,
	const rig_change_value *value)
{
	if (value->text == NULL)
		rig_put_figure(writer, object, key, value->figure, change->unit);
	else
		rig_json_add_text(&writer->maker, object, key, value->text);
}

static void put_changes(rig_writer *writer, cJSON *data, const rig_changes *changes)
{
	static const char *const KINDS[] = {"added", "taken_out", "other"};
	rig_json_maker *maker = &writer->maker;
	cJSON *list = rig_json_add_array(maker, data, "changes");
	for (size_t i = 0; i < changes->n; i++) {
		const rig_change *change = &changes->rows[i];
		cJSON *object = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, object, "kind", KINDS[change->kind]);
		rig_json_add_text(maker, object, "path", change->path);
		rig_json_add_text(maker, object, "thing", change->thing);
		rig_json_add_text(maker, object, "what", change->what);
		put_value(writer, object, "before", change, &change->before);
		put_value(writer, object, "after", change, &change->after);
	}
}

/* "3 entries differ, 1 is new and 2 are gone." */
static void write_summary(rig_writer *writer, const rig_comparison *it)
{
	size_t n[3] = {0}, n_notes = 0;
	for (size_t i = 0; i < it->changes->n; i++) {
		n[it->changes->rows[i].kind]++;
		n_notes += it->changes->rows[i].note;
	}
	const char *verdict = rig_said(writer, "%zu %s, %zu %s new and %zu %s gone.",
		n[RIG_CHANGE_OTHER], n[RIG_CHANGE_OTHER] == 1 ? "entry differs" : "entries differ",
		n[RIG_CHANGE_ADDED], n[RIG_CHANGE_ADDED] == 1 ? "is" : "are",
		n[RIG_CHANGE_TAKEN_OUT], n[RIG_CHANGE_TAKEN_OUT] == 1 ? "is" : "are");
	if (it->changes->n == 0)
		verdict = "Nothing: both files state the same coach.";
	rig_add_answer(writer->document, "What differs in the files?", verdict, "%s",
		n_notes > 0 && n_notes == it->changes->n
			? "Only names and notes: no figure hangs on them."
			: "");
}

static void write_effect_summary(
	rig_writer *writer, const rig_comparison *it, size_t n, const answer_pair *pairs)
{
	size_t n_changed = 0, n_figures = 0;
	for (size_t i = 0; i < n; i++)
		n_changed += changes_verdict(&pairs[i]);
	for (size_t i = 0; i < it->effects->n; i++)
		n_figures += rig_effect_differs(&it->effects->rows[i]);
	const char *verdict =
		n_changed == 0 ? "No answer changes."
			       : rig_said(writer, "%zu of %zu answers change.", n_changed, n);
	rig_add_answer(writer->document, "What does that do to the answers?", verdict,
		"Of the main figures %zu of %zu %s.", n_figures, it->effects->n,
		n_figures == 1 ? "changes" : "change");
}

/* ---- the document ---- */

static void write_cautions(rig_writer *writer, const rig_comparison *it)
{
	const rig_document *const sheets[] = {it->after.sheet, it->before.sheet};
	rig_add_caution(writer->document, "Cautions");
	rig_add_item(writer->document,
		"This compares two descriptions. That a figure is better in the later file does "
		"not show that the work was done, or done well: have it looked at by a "
		"licensed electrician or a certified technician.");
	for (size_t k = 0; k < sizeof sheets / sizeof sheets[0]; k++) {
		for (size_t i = 0; i < rig_document_n_blocks(sheets[k]); i++) {
			const rig_block *block = rig_document_block_at(sheets[k], i);
			for (size_t j = 0; block->kind == RIG_BLOCK_CAUTION && j < block->n_items;
				j++)
				rig_add_item(writer->document, "%s", block->items[j]);
		}
	}
}

static void write_assumptions(rig_writer *writer)
{
	rig_add_heading(writer->document, 2, "What the figures rest on");
	rig_add_list(writer->document, "");
	rig_add_item(writer->document,
		"Most of what is in doubt, such as the site's supply or the year's sun, is the "
		"same "
		"for both. A figure that moves has moved, even where the two ranges overlap.");
	rig_add_item(writer->document,
		"What is switched off is found from random days: there a few in a hundred may be "
		"chance.");
	rig_add_item(writer->document,
		"Things of a list are paired by their id, else by their name: one that was renamed "
		"counts as gone and new.");
	rig_add_item(writer->document,
		"Everything else rests on what the sheets of the two coaches rest on: see "
		"`rigbudget report` of each.");
}

static void write_all(
	rig_writer *writer, const rig_comparison *it, const rig_report_options *options)
{
	enum { MOST_PAIRS = 64 };
	answer_pair pairs[MOST_PAIRS];
	const size_t n = pair_answers(it, pairs, MOST_PAIRS);
	cJSON *data = rig_document_data(writer->document);
	rig_json_add_text(&writer->maker, data, "before", it->before.coach->name);
	rig_json_add_text(&writer->maker, data, "after", it->after.coach->name);
	put_changes(writer, data, it->changes);
	put_pairs(writer, data, n, pairs);
	put_effects(writer, data, it->effects);
	if (same_name(it))
		rig_document_title(
			writer->document, "Before and after: %s", name_of(writer, it->after.coach));
	else
		rig_document_title(
			writer->document, "Compared: %s", name_of(writer, it->after.coach));
	rig_document_subtitle(writer->document, "Before: %s.", name_of(writer, it->before.coach));
	rig_document_subtitle(writer->document, "After: %s.", name_of(writer, it->after.coach));
	if (options != NULL && options->date != NULL)
		rig_document_subtitle(writer->document, "%s", options->date);
	if (options != NULL && options->inspector != NULL)
		rig_document_subtitle(writer->document, "Inspector: %s", options->inspector);
	write_summary(writer, it);
	write_effect_summary(writer, it, n, pairs);
	write_pairs(writer, n, pairs);
	write_effects(writer, it);
	write_changes(writer, it->changes);
	write_assumptions(writer);
	write_cautions(writer, it);
	if (writer->maker.failed)
		rig_document_fail(writer->document, RIG_NO_MEMORY);
}

rig_status rig_write_comparison(const rig_comparison *comparison, const rig_report_options *options,
	rig_document **document)
{
	rig_writer writer = {.document = rig_document_new(),
		.arena = rig_arena_new(),
		.coach = comparison->after.coach,
		.units = options == NULL ? RIG_UNITS_US : options->units,
		.run = -1};
	rig_status status = RIG_NO_MEMORY;
	if (writer.document != NULL && writer.arena != NULL) {
		write_all(&writer, comparison, options);
		status = rig_document_status(writer.document);
	}
	if (status == RIG_OK) {
		*document = writer.document;
		writer.document = NULL;
	}
	rig_arena_free(writer.arena);
	rig_document_free(writer.document);
	return status;
}
