/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reading_list.c: readings from a table or from words, by the same key rows as those of a rig
 * file. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/decimal.h"
#include "base/suggest.h"
#include "rig/effective.h"
#include "rig/keys.h"
#include "rigbudget/readings.h"

enum { MAX_COLUMNS = 32, MAX_READINGS = 2000, MAX_LIST = 200, MAX_SHOWN = 40 };
static const char IDS_PART[] = " \t,;";

struct rig_reading_list {
	rig_arena *arena;
	size_t n, room;
	rig_reading *readings;
};

/* A piece of the text, quotes taken off. */
typedef struct {
	const char *at;
	size_t length;
	const char *text; /* in the arena */
} cell;

typedef struct {
	const rig_key *key;
	unsigned unit;
} column;

typedef struct {
	const char *text, *end;
	size_t line;
	const rig_coach *coach;
	rig_diags *diags;
	size_t faults;
	bool no_memory;
	rig_reading_list *list;
	size_t n_columns; /* 0 until the line of names was read */
	column columns[MAX_COLUMNS];
} reader;

/* What is wrong with a piece. NULL is "". */
typedef struct {
	const char *what, *allowed, *mend;
} saying;

static size_t column_number(const reader *r, const char *at)
{
	const char *begin = at;
	size_t n = 1;
	while (begin > r->text && begin[-1] != '\n')
		begin--;
	for (const char *c = begin; c < at; c++)
		n += ((unsigned char)*c & 0xC0) != 0x80;
	return n;
}

static bool fault(reader *r, const cell *found, const saying *says)
{
	char shown[MAX_SHOWN + 8];
	const size_t n = found->length < MAX_SHOWN ? found->length : MAX_SHOWN;
	snprintf(shown, sizeof shown, "\"%.*s%s\"", (int)n, found->at,
		n < found->length ? "..." : "");
	rig_diags_add(r->diags, &(rig_diag){.severity = RIG_FAULT,
					.where = {r->line, column_number(r, found->at), ""},
					.what = says->what,
					.found = shown,
					.allowed = says->allowed,
					.mend = says->mend});
	r->faults++;
	return false;
}

/* Three pieces as one text. */
static const char *words(reader *r, const char *before, const char *one, const char *after)
{
	char text[200];
	snprintf(text, sizeof text, "%s%.80s%s", before, one, after);
	const char *copy = rig_arena_text(r->list->arena, text);
	r->no_memory |= copy == NULL;
	return copy == NULL ? "" : copy;
}

/* ---- values ---- */

/* "12.5" or "12..13". */
static bool numbers(const char *text, double *low, double *high)
{
	const char *at = rig_decimal(text, low);
	*high = *low;
	if (at != NULL && at[0] == '.' && at[1] == '.')
		at = rig_decimal(at + 2, high);
	return at != NULL && *at == '\0' && *low <= *high;
}

static bool read_number(reader *r, const cell *c, const column *of, double si[2])
{
	double value[2];
	char allowed[80];
	const rig_key *key = of->key;
	const char *unit = key->kind == RIG_KEY_FIGURE ? rig_key_unit(key, of->unit) : "";
	snprintf(allowed, sizeof allowed, "a%s number from %.6g to %.6g%s%s",
		key->kind == RIG_KEY_WHOLE ? " whole" : "", key->low, key->high,
		*unit != '\0' ? " " : "", unit);
	if (!numbers(c->text, &value[0], &value[1]))
		return fault(r, c,
			&(saying){words(r, "", key->name[of->unit], " is not a number"), allowed,
				"write the number alone, a range as 12..13; the unit is in the "
				"name"});
	bool right =
		key->kind != RIG_KEY_WHOLE || (value[0] == value[1] && value[0] == floor(value[0]));
	for (int i = 0; i < 2; i++) {
		si[i] = key->kind == RIG_KEY_FIGURE ? rig_key_to_si(key, of->unit, value[i])
						    : value[i];
		right &= si[i] >= key->low && si[i] <= key->high;
	}
	if (!right)
		return fault(r, c,
			&(saying){words(r, "", key->name[of->unit], " is out of range"), allowed,
				"check the number and its unit"});
	return true;
}

typedef struct {
	const rig_coach *coach;
	rig_target target;
} id_source;

static size_t n_ids(const id_source *of)
{
	switch (of->target) {
	case RIG_TO_LOAD:
		return of->coach->n_loads;
	case RIG_TO_CIRCUIT:
		return of->coach->n_circuits;
	case RIG_TO_BANK:
		return of->coach->n_banks;
	default:
		return of->coach->n_arrays;
	}
}

static const char *id_at(const void *context, size_t i)
{
	const id_source *of = context;
	switch (of->target) {
	case RIG_TO_LOAD:
		return of->coach->loads[i].id;
	case RIG_TO_CIRCUIT:
		return of->coach->circuits[i].id;
	case RIG_TO_BANK:
		return of->coach->banks[i].id;
	default:
		return of->coach->arrays[i].id;
	}
}

static bool check_id(reader *r, const cell *c, rig_target target, const char *id)
{
	const id_source of = {r->coach, target};
	for (size_t i = 0; i < n_ids(&of); i++)
		if (strcmp(id_at(&of, i), id) == 0)
			return true;
	const char *near = rig_suggest(id, n_ids(&of), id_at, &of);
	return fault(r, c,
		&(saying){words(r, "the coach has no ", rig_target_word(target), " of that id"),
			words(r, "the id of a ", rig_target_word(target), ""),
			near == NULL ? "see the ids in the rig file"
				     : words(r, "did you mean ", near, "?")});
}

static bool read_ids(reader *r, const cell *c, const rig_key *key, rig_reading *into)
{
	const char **list = rig_arena_take(r->list->arena, MAX_LIST, sizeof *list);
	size_t n = 0;
	bool right = true;
	r->no_memory |= list == NULL;
	for (const char *at = c->text; list != NULL && *at != '\0';) {
		at += strspn(at, IDS_PART);
		const size_t length = strcspn(at, IDS_PART);
		if (length == 0)
			break;
		char *id = rig_arena_take(r->list->arena, length + 1, 1);
		if (id == NULL || n == MAX_LIST) {
			r->no_memory = true;
			return false;
		}
		memcpy(id, at, length);
		right &= check_id(r, c, key->target, id);
		list[n++] = id;
		at += length;
	}
	*(const char ***)rig_key_field(key, into) = list;
	*(size_t *)((char *)into + key->count_offset) = n;
	return right;
}

static bool read_choice(reader *r, const cell *c, const rig_key *key, int *value)
{
	static const rig_word YES_NO_WORDS[] = {
		{"true", RIG_YES}, {"yes", RIG_YES}, {"false", RIG_NO}, {"no", RIG_NO}, {NULL, 0}};
	const rig_word *of = key->kind == RIG_KEY_YES_NO ? YES_NO_WORDS : key->words;
	char allowed[120] = "";
	size_t length = 0;
	for (; of->text != NULL; of++) {
		if (strcmp(of->text, c->text) == 0) {
			*value = of->value;
			return true;
		}
		/* the words of a key are few and short */
		length += (size_t)snprintf(allowed + length, sizeof allowed - length, "%s%s",
			of->text, of[1].text != NULL ? ", " : "");
	}
	return fault(r, c,
		&(saying){words(r, "", key->name[0], " is none of the allowed words"), allowed,
			"choose one of them"});
}

/* One value into its field; an empty one is left out. */
static bool read_cell(reader *r, const cell *c, const column *of, rig_reading *into)
{
	const rig_key *key = of->key;
	void *field = rig_key_field(key, into);
	double si[2];
	if (c->text[0] == '\0')
		return true;
	switch (key->kind) {
	case RIG_KEY_TEXT:
		*(const char **)field = c->text;
		return true;
	case RIG_KEY_REFERENCE:
		*(const char **)field = c->text;
		return check_id(r, c, key->target, c->text);
	case RIG_KEY_REFERENCES:
		return read_ids(r, c, key, into);
	case RIG_KEY_YES_NO:
	case RIG_KEY_CHOICE:
		return read_choice(r, c, key, field);
	case RIG_KEY_WHOLE:
		if (!read_number(r, c, of, si))
			return false;
		*(int *)field = (int)si[0];
		return true;
	default:
		if (!read_number(r, c, of, si))
			return false;
		*(rig_figure *)field =
			rig_figure_range(si[0], (si[0] + si[1]) / 2.0, si[1], RIG_FROM_MEASURED);
		((rig_figure *)field)->unit = (unsigned char)of->unit;
		return true;
	}
}

static bool find_column(reader *r, const cell *name, column *of)
{
	const rig_object_keys *keys = rig_keys_of(RIG_OBJECT_READING);
	const int found = rig_key_find(keys, name->text, &of->unit);
	if (found >= 0) {
		of->key = &keys->keys[found];
		return true;
	}
	int meant;
	const char *near = rig_key_suggest(keys, name->text, &meant);
	return fault(r, name,
		&(saying){"a reading has no key of that name",
			"a key of a reading, such as on, leg1_a, leg2_a, volts_v, watts_w, bank_a",
			near == NULL ? "see the reading in docs/rig-file.md"
				     : words(r, "did you mean ", near, "?")});
}

/* ---- whole readings ---- */

static void fill_left_out(const rig_coach *coach, rig_reading *reading)
{
	const int bank = rig_only_house_bank(coach);
	if (rig_figure_given(reading->bank_a) && reading->bank == NULL && bank >= 0)
		reading->bank = coach->banks[bank].id;
	if (rig_figure_given(reading->array_a) && reading->array == NULL && coach->n_arrays == 1)
		reading->array = coach->arrays[0].id;
}

/* What a reading lacks that its figures need. */
static bool check_reading(reader *r, const cell *whole, const rig_reading *it)
{
	const bool bank = rig_figure_given(it->bank_a);
	const bool array = rig_figure_given(it->array_a);
	const struct {
		bool missing;
		const char *what, *mend;
	} needs[] = {
		{!rig_figure_given(it->leg1_a) && !rig_figure_given(it->leg2_a) &&
				!rig_figure_given(it->watts_w) &&
				!rig_figure_given(it->circuit_a) && !bank && !array,
			"the reading says no amps and no watts", "write what the meter said"},
		{bank && it->bank == NULL, "it is not said which bank is meant", "add bank"},
		{array && it->array == NULL, "it is not said which solar array is meant",
			"add array"},
		{array && (it->month < 0 || it->day < 0 || !rig_figure_given(it->hour_h)),
			"the sun needs a time", "add month, day and hour_h"},
		{rig_figure_given(it->circuit_a) && it->circuit == NULL,
			"it is not said which circuit is meant", "add circuit"},
		{rig_figure_given(it->rest_before_v) != rig_figure_given(it->rest_after_v),
			"one rest voltage is missing", "give rest_before_v and rest_after_v"},
		{rig_figure_given(it->rest_before_v) &&
				it->rest_before_v.likely < it->rest_after_v.likely,
			"rest_after_v is above rest_before_v", "check which is which"},
	};
	bool right = true;
	for (size_t i = 0; i < sizeof needs / sizeof needs[0]; i++)
		if (needs[i].missing)
			right = fault(r, whole, &(saying){needs[i].what, "", needs[i].mend});
	return right;
}

static rig_reading *new_reading(reader *r)
{
	rig_reading_list *list = r->list;
	if (list->n == list->room) {
		const size_t room = list->room == 0 ? 16 : 2 * list->room;
		rig_reading *grown = realloc(list->readings, room * sizeof *grown);
		if (grown == NULL) {
			r->no_memory = true;
			return NULL;
		}
		list->readings = grown;
		list->room = room;
	}
	rig_reading *reading = &list->readings[list->n++];
	rig_object_clear(RIG_OBJECT_READING, reading);
	return reading;
}

static void finish_reading(reader *r, const cell *whole, rig_reading *reading, bool right)
{
	fill_left_out(r->coach, reading);
	if (right)
		check_reading(r, whole, reading);
}

/* ---- the table ---- */

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\r';
}

static cell make_cell(reader *r, const char *begin, const char *end)
{
	while (begin < end && is_blank(*begin))
		begin++;
	while (end > begin && is_blank(end[-1]))
		end--;
	char *text = rig_arena_take(r->list->arena, (size_t)(end - begin) + 1, 1);
	r->no_memory |= text == NULL;
	size_t n = 0;
	const bool quoted = end - begin >= 2 && *begin == '"' && end[-1] == '"';
	for (const char *at = begin + quoted; text != NULL && at < end - quoted; at++) {
		text[n++] = *at;
		at += quoted && *at == '"' && at + 1 < end - quoted && at[1] == '"';
	}
	return (cell){begin, (size_t)(end - begin), text == NULL ? "" : text};
}

/* The next cell of a line, which then begins behind it; the last one leaves it at NULL. */
static cell next_cell(reader *r, const char **line, const char *end)
{
	const char *begin = *line;
	const char *at = begin;
	bool quoted = false;
	for (; at < end && (quoted || *at != ','); at++)
		quoted ^= *at == '"';
	*line = at < end ? at + 1 : NULL;
	return make_cell(r, begin, at);
}

static void read_names(reader *r, const char *line, const char *end)
{
	const char *rest = line;
	while (rest != NULL && r->n_columns < MAX_COLUMNS) {
		const cell name = next_cell(r, &rest, end);
		column *of = &r->columns[r->n_columns++];
		if (!find_column(r, &name, of))
			continue;
		for (size_t i = 0; i + 1 < r->n_columns; i++)
			if (r->columns[i].key == of->key)
				fault(r, &name,
					&(saying){"the column stands twice", "each key once",
						"keep one of them"});
	}
	const cell whole = {line, (size_t)(end - line), ""};
	if (rest != NULL)
		fault(r, &whole, &(saying){"too many columns", "at most 32", "leave some out"});
}

static void read_row(reader *r, const char *line, const char *end)
{
	const cell whole = {line, (size_t)(end - line), ""};
	rig_reading *reading = new_reading(r);
	if (reading == NULL)
		return;
	const char *rest = line;
	bool right = true;
	size_t n = 0;
	for (; rest != NULL; n++) {
		const cell c = next_cell(r, &rest, end);
		if (n < r->n_columns)
			right &= read_cell(r, &c, &r->columns[n], reading);
	}
	if (n != r->n_columns)
		right = fault(r, &whole,
			&(saying){n < r->n_columns ? "the line has too few values"
						   : "the line has too many values",
				"as many as the line of names",
				"mend the line; quotes hold commas"});
	finish_reading(r, &whole, reading, right);
}

static bool is_empty(const char *line, const char *end)
{
	while (line < end && is_blank(*line))
		line++;
	return line == end || *line == '#';
}

static void read_lines(reader *r)
{
	const char *at = r->text;
	if (r->end - at >= 3 && memcmp(at, "\xEF\xBB\xBF", 3) == 0)
		at += 3;
	size_t named_at = 0;
	while (at < r->end && !r->no_memory) {
		const char *stop = memchr(at, '\n', (size_t)(r->end - at));
		const char *end = stop == NULL ? r->end : stop;
		const cell whole = {at, (size_t)(end - at), ""};
		r->line++;
		if (memchr(at, '\0', (size_t)(end - at)) != NULL)
			fault(r, &whole,
				&(saying){"the line holds a NUL byte", "text",
					"save it as "
					"text"});
		else if (is_empty(at, end))
			;
		else if (r->n_columns == 0) {
			read_names(r, at, end);
			named_at = r->faults;
		} else if (named_at == 0 && r->list->n < MAX_READINGS)
			read_row(r, at, end);
		at = stop == NULL ? r->end : stop + 1;
	}
}

static rig_status start(
	reader *r, const char *text, size_t length, const rig_coach *completed, rig_diags *diags)
{
	*r = (reader){.text = text, .end = text + length, .coach = completed, .diags = diags};
	r->list = calloc(1, sizeof *r->list);
	if (r->list == NULL)
		return RIG_NO_MEMORY;
	r->list->arena = rig_arena_new();
	return r->list->arena == NULL ? RIG_NO_MEMORY : RIG_OK;
}

static rig_status finish(reader *r, rig_reading_list **list)
{
	const rig_status status = r->list == NULL || r->list->arena == NULL || r->no_memory
					  ? RIG_NO_MEMORY
				  : r->faults > 0 ? RIG_BAD_INPUT
						  : RIG_OK;
	if (status == RIG_OK)
		*list = r->list;
	else
		rig_reading_list_free(r->list);
	return status;
}

rig_status rig_reading_list_read(const char *text, size_t length, const rig_coach *completed,
	rig_diags *diags, rig_reading_list **list)
{
	reader *r = calloc(1, sizeof *r);
	if (r == NULL)
		return RIG_NO_MEMORY;
	if (start(r, text, length, completed, diags) == RIG_OK) {
		read_lines(r);
		const cell nothing = {text, 0, ""};
		if (r->n_columns == 0 && !r->no_memory)
			fault(r, &nothing,
				&(saying){"there is no line of names",
					"a first line such as "
					"on,leg1_a,volts_v",
					"name the columns"});
	}
	const rig_status status = finish(r, list);
	free(r);
	return status;
}

/* ---- words ---- */

static bool read_word(reader *r, const char *begin, const char *end, rig_reading *reading)
{
	const char *equals = memchr(begin, '=', (size_t)(end - begin));
	const cell whole = {begin, (size_t)(end - begin), ""};
	column of;
	if (equals == NULL)
		return fault(r, &whole,
			&(saying){"a word of the reading has no value", "key=value",
				"write such as leg1_a=12.5, lists with commas"});
	const cell name = make_cell(r, begin, equals);
	const cell value = make_cell(r, equals + 1, end);
	return find_column(r, &name, &of) && read_cell(r, &value, &of, reading);
}

rig_status rig_reading_list_words(
	const char *words_of, const rig_coach *completed, rig_diags *diags, rig_reading_list **list)
{
	reader *r = calloc(1, sizeof *r);
	if (r == NULL)
		return RIG_NO_MEMORY;
	const size_t length = strlen(words_of);
	if (start(r, words_of, length, completed, diags) == RIG_OK) {
		rig_reading *reading = new_reading(r);
		const cell whole = {words_of, length, ""};
		bool right = true;
		r->line = 1;
		for (const char *at = words_of; reading != NULL && *at != '\0';) {
			at += strspn(at, " \t");
			const size_t n = strcspn(at, " \t");
			if (n > 0)
				right &= read_word(r, at, at + n, reading);
			at += n;
		}
		if (reading != NULL)
			finish_reading(r, &whole, reading, right);
	}
	const rig_status status = finish(r, list);
	free(r);
	return status;
}

void rig_reading_list_free(rig_reading_list *list)
{
	if (list == NULL)
		return;
	free(list->readings);
	rig_arena_free(list->arena);
	free(list);
}

size_t rig_reading_list_count(const rig_reading_list *list)
{
	return list->n;
}

const rig_reading *rig_reading_list_at(const rig_reading_list *list, size_t i)
{
	return &list->readings[i];
}
