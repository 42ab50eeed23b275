/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options out of JSON: one row a key. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/request.h"
#include "base/json.h"
#include "base/suggest.h"

enum { MAX_LISTS = 64, MAX_WORDS = 200, N_WORDS = 2 };

typedef enum {
	KIND_TEXT,
	KIND_CHOICE,
	KIND_WHOLE, /* long */
	KIND_SEED,  /* int64_t */
	KIND_MONTH, /* int, one less than written */
	KIND_NUMBER,
	KIND_PERCENT, /* double, a hundredth of what is written */
	KIND_TRUTH,
	KIND_WORDS, /* rig_texts */
	KIND_WEATHER,
	KIND_PARTS,
	KIND_TABLE,
	KIND_READ
} request_kind;

typedef struct {
	const char *name;
	request_kind kind;
	size_t offset;
	double low, high;
	const char *const *choices; /* ends with NULL; the value is the index */
	const char *allowed;
} request_row;

struct rig_answer_request {
	rig_answer_options options;
	rig_json *json; /* of the options alone; NULL where they are part of another text */
	const rig_coach *coach;
	rig_diags *diags;
	rig_hourly_year *weather;
	rig_parts_file *parts;
	const char **words[N_WORDS]; /* each of those that are named, in any order */
	size_t n_words;
	rig_reading_list *lists[MAX_LISTS];
	size_t n_lists;
	rig_reading *readings;
};

static const char *const UNITS[] = {"us", "si", NULL};
static const char *const READERS[] = {"buyer", "owner", "shop", NULL};
static const char *const DAYS[] = {"hot", "mild", "cold", NULL};
static const char *const COPPERS[] = {"awg", "sae", NULL};

#define AT(field) offsetof(rig_answer_options, field)
static const request_row ROWS[] = {
	{"units", KIND_CHOICE, AT(units), 0, 0, UNITS, "us or si"},
	{"for", KIND_CHOICE, AT(reader), 0, 0, READERS, "buyer, owner or shop"},
	{"date", KIND_TEXT, AT(date), 0, 0, NULL, "a text"},
	{"inspector", KIND_TEXT, AT(inspector), 0, 0, NULL, "a text"},
	{"run", KIND_TEXT, AT(run), 0, 0, NULL, "the id or name of a load"},
	{"supply", KIND_TEXT, AT(supply), 0, 0, NULL, "50A, 30A, 20A, 15A, generator or inverter"},
	{"day", KIND_CHOICE, AT(day), 0, 0, DAYS, "hot, mild or cold"},
	{"place", KIND_TEXT, AT(place), 0, 0, NULL, "a name of the table of places"},
	{"month", KIND_MONTH, AT(month), 1, 12, NULL, "a whole number from 1 to 12"},
	{"days", KIND_WHOLE, AT(n_days), 1, 100000, NULL, "a whole number from 1 to 100000"},
	{"trips", KIND_WHOLE, AT(n_trips), 0, 1000000, NULL, "a whole number from 0 to 1000000"},
	{"side_trips", KIND_WHOLE, AT(n_side_trips), 0, 1000000, NULL,
		"a whole number from 0 to 1000000"},
	{"seed", KIND_SEED, AT(seed), 0, 2147483647, NULL, "a whole number from 0 to 2147483647"},
	{"wanted", KIND_PERCENT, AT(wanted_out_frac), 0.1, 99, NULL, "a number from 0.1 to 99"},
	{"drive_every", KIND_WHOLE, AT(drive_every_days), 1, 365, NULL,
		"a whole number from 1 to 365"},
	{"drawn", KIND_TRUTH, AT(drawn_days), 0, 0, NULL, "true or false"},
	{"habit", KIND_TEXT, AT(habit), 0, 0, NULL, "the name of a habit of the file"},
	{"meter_percent", KIND_PERCENT, AT(meter_frac), 0, 50, NULL, "a number from 0 to 50"},
	{"meter_a", KIND_NUMBER, AT(meter_a), 0.001, 50, NULL, "a number from 0.001 to 50"},
	{"months", KIND_TEXT, AT(wish.months), 0, 0, NULL, "a text such as nov-feb"},
	{"keep", KIND_TEXT, AT(wish.keep), 0, 0, NULL, "a text such as panels,bank"},
	{"replace", KIND_TEXT, AT(wish.replace), 0, 0, NULL, "a text such as panels,bank"},
	{"load", KIND_WORDS, AT(wish.loads), 0, 0, NULL, "a list of up to 64 texts"},
	{"roof", KIND_TEXT, AT(wish.roof), 0, 0, NULL, "a text such as 33ftx8ft"},
	{"obstacle", KIND_WORDS, AT(wish.obstacles), 0, 0, NULL, "a list of up to 64 texts"},
	{"gap", KIND_TEXT, AT(wish.gap), 0, 0, NULL, "a text such as 1in"},
	{"battery_room", KIND_TEXT, AT(wish.battery_room), 0, 0, NULL,
		"a text such as 3ftx18inx12in"},
	{"max_price", KIND_TEXT, AT(wish.max_price), 0, 0, NULL, "a text such as 2500"},
	{"max_weight", KIND_TEXT, AT(wish.max_weight), 0, 0, NULL, "a text such as 500lb"},
	{"max_area", KIND_TEXT, AT(wish.max_area), 0, 0, NULL, "a text such as 80ft2"},
	{"max_panels", KIND_WHOLE, AT(wish.max_panels), 0, 100, NULL,
		"a whole number from 0 to 100"},
	{"max_batteries", KIND_WHOLE, AT(wish.max_batteries), 0, 100, NULL,
		"a whole number from 0 to 100"},
	{"runs", KIND_TEXT, AT(wish.runs), 0, 0, NULL, "a text such as 20ft,6ft,5ft"},
	{"compare", KIND_TEXT, AT(wish.compare), 0, 0, NULL, "a text such as 1,3"},
	{"copper", KIND_CHOICE, AT(copper), 0, 0, COPPERS, "awg or sae"},
	{"next_size", KIND_TRUTH, AT(next_size), 0, 0, NULL, "true or false"},
	{"weather", KIND_WEATHER, 0, 0, 0, NULL, "the text of an hourly year"},
	{"parts", KIND_PARTS, 0, 0, 0, NULL, "the text of a parts file"},
	{"table", KIND_TABLE, 0, 0, 0, NULL, "readings as comma-separated values"},
	{"read", KIND_READ, 0, 0, 0, NULL, "up to 63 readings in words"},
};
enum { N_ROWS = sizeof ROWS / sizeof ROWS[0] };

static const char *row_name(const void *context, size_t i)
{
	(void)context;
	return ROWS[i].name;
}

/* why->where.path is the option, or "" for all of them. */
static rig_status refuse(rig_answer_request *made, const cJSON *item, const rig_diag *why)
{
	rig_diag entry = *why;
	if (made->json != NULL)
		entry.where = rig_json_where(made->json, item, why->where.path);
	rig_diags_add(made->diags, &entry);
	return RIG_BAD_INPUT;
}

static rig_status refuse_value(rig_answer_request *made, const request_row *row, const cJSON *item)
{
	char what[MAX_WORDS], found[MAX_WORDS] = "";
	snprintf(what, sizeof what, "%s is not what it may be", row->name);
	if (cJSON_IsString(item))
		snprintf(found, sizeof found, "\"%.100s\"", item->valuestring);
	else if (cJSON_IsNumber(item))
		snprintf(found, sizeof found, "%g", item->valuedouble);
	return refuse(made, item,
		&(rig_diag){.where.path = row->name,
			.what = what,
			.found = found,
			.allowed = row->allowed,
			.mend = "give one of these, or leave it out"});
}

static rig_status refuse_key(rig_answer_request *made, const cJSON *item)
{
	char mend[MAX_WORDS] = "leave it out";
	const char *near = rig_suggest(item->string, N_ROWS, row_name, NULL);
	if (near != NULL)
		snprintf(mend, sizeof mend, "did you mean %s?", near);
	return refuse(made, item,
		&(rig_diag){.where.path = item->string,
			.what = "a question has no such option",
			.found = item->string,
			.mend = mend});
}

/* Entries of another text go over with the option's name before their path. */
static void hand_on(rig_answer_request *made, rig_diags *from, const char *path)
{
	for (size_t i = 0; i < rig_diags_count(from); i++) {
		rig_diag entry = *rig_diags_at(from, i);
		entry.where.path = path;
		rig_diags_add(made->diags, &entry);
	}
}

static rig_status read_list(rig_answer_request *made, const cJSON *item, const char *path)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return RIG_NO_MEMORY;
	rig_reading_list *list = NULL;
	const char *text = item->valuestring;
	const rig_status status =
		strcmp(path, "table") == 0
			? rig_reading_list_read(text, strlen(text), made->coach, diags, &list)
			: rig_reading_list_words(text, made->coach, diags, &list);
	if (status == RIG_OK)
		made->lists[made->n_lists++] = list;
	hand_on(made, diags, path);
	rig_diags_free(diags);
	return status;
}

static rig_status read_words(rig_answer_request *made, const request_row *row, const cJSON *item)
{
	const cJSON *words = NULL;
	rig_status status = RIG_OK;
	size_t n = 0;
	if (!cJSON_IsArray(item) || cJSON_GetArraySize(item) >= MAX_LISTS)
		return refuse_value(made, row, item);
	cJSON_ArrayForEach(words, item)
	{
		char path[32];
		snprintf(path, sizeof path, "read[%zu]", n++);
		const rig_status one = cJSON_IsString(words) ? read_list(made, words, path)
							     : refuse_value(made, row, words);
		if (one != RIG_OK)
			status = one;
	}
	return status;
}

static rig_status read_weather(rig_answer_request *made, const cJSON *item)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = rig_hourly_year_read(
		item->valuestring, strlen(item->valuestring), diags, &made->weather);
	if (status != RIG_OK)
		hand_on(made, diags, "weather");
	rig_diags_free(diags);
	made->options.weather = made->weather;
	return status;
}

static rig_status read_parts(rig_answer_request *made, const cJSON *item)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return RIG_NO_MEMORY;
	rig_parts_free(made->parts);
	made->parts = NULL;
	const rig_status status =
		rig_parts_parse(item->valuestring, strlen(item->valuestring), diags, &made->parts);
	if (status != RIG_OK)
		hand_on(made, diags, "parts");
	else
		made->options.parts = rig_parts_list(made->parts);
	rig_diags_free(diags);
	return status;
}

static bool take_number(const request_row *row, double value, void *field)
{
	if (!(value >= row->low && value <= row->high))
		return false;
	if (row->kind == KIND_NUMBER || row->kind == KIND_PERCENT) {
		*(double *)field = row->kind == KIND_PERCENT ? value / 100.0 : value;
		return true;
	}
	if (value != floor(value))
		return false;
	if (row->kind == KIND_MONTH)
		*(int *)field = (int)value - 1;
	else if (row->kind == KIND_SEED)
		*(int64_t *)field = (int64_t)value;
	else
		*(long *)field = (long)value;
	return true;
}

static bool take_choice(const request_row *row, const char *word, void *field)
{
	for (int i = 0; row->choices[i] != NULL; i++) {
		if (strcmp(row->choices[i], word) == 0) {
			*(int *)field = i;
			return true;
		}
	}
	return false;
}

static bool take_value(rig_answer_request *made, const request_row *row, const cJSON *item)
{
	void *field = (char *)&made->options + row->offset;
	switch (row->kind) {
	case KIND_TEXT:
		if (!cJSON_IsString(item) || item->valuestring[0] == '\0')
			return false;
		*(const char **)field = item->valuestring;
		return true;
	case KIND_CHOICE:
		return cJSON_IsString(item) && take_choice(row, item->valuestring, field);
	case KIND_TRUTH:
		*(bool *)field = cJSON_IsTrue(item);
		return cJSON_IsBool(item);
	default:
		return cJSON_IsNumber(item) && take_number(row, item->valuedouble, field);
	}
}

/* A list of texts; the tree that they belong to outlives the request. */
static rig_status take_words(rig_answer_request *made, const request_row *row, const cJSON *item)
{
	rig_texts *field = (rig_texts *)((char *)&made->options + row->offset);
	const int n = cJSON_IsArray(item) ? cJSON_GetArraySize(item) : -1;
	if (n < 0 || n > MAX_LISTS || made->n_words == N_WORDS)
		return refuse_value(made, row, item);
	const char **words = calloc((size_t)n + 1, sizeof *words);
	if (words == NULL)
		return RIG_NO_MEMORY;
	made->words[made->n_words++] = words;
	const cJSON *word = item->child;
	for (int i = 0; i < n; i++, word = word->next) {
		if (!cJSON_IsString(word))
			return refuse_value(made, row, word);
		words[i] = word->valuestring;
	}
	*field = (rig_texts){(size_t)n, words};
	return RIG_OK;
}

/* What holds a text or a list of its own. */
static rig_status take_other(rig_answer_request *made, const request_row *row, const cJSON *item)
{
	if (row->kind == KIND_READ)
		return read_words(made, row, item);
	if (row->kind == KIND_WORDS)
		return take_words(made, row, item);
	if (!cJSON_IsString(item))
		return refuse_value(made, row, item);
	if (row->kind == KIND_WEATHER)
		return read_weather(made, item);
	return row->kind == KIND_PARTS ? read_parts(made, item) : read_list(made, item, row->name);
}

static rig_status take(rig_answer_request *made, const cJSON *item)
{
	const request_row *row = ROWS;
	while (row < ROWS + N_ROWS && strcmp(row->name, item->string) != 0)
		row++;
	if (row == ROWS + N_ROWS)
		return refuse_key(made, item);
	if (row->kind >= KIND_WORDS)
		return take_other(made, row, item);
	return take_value(made, row, item) ? RIG_OK : refuse_value(made, row, item);
}

static rig_status join_readings(rig_answer_request *made)
{
	size_t n = 0;
	for (size_t i = 0; i < made->n_lists; i++)
		n += rig_reading_list_count(made->lists[i]);
	made->readings = calloc(n + 1, sizeof *made->readings);
	if (made->readings == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < made->n_lists; i++)
		for (size_t k = 0; k < rig_reading_list_count(made->lists[i]); k++)
			made->readings[made->options.n_readings++] =
				*rig_reading_list_at(made->lists[i], k);
	made->options.readings = made->readings;
	return RIG_OK;
}

static rig_status take_all(rig_answer_request *made, const cJSON *root)
{
	const cJSON *item = NULL;
	rig_status status = RIG_OK;
	if (!cJSON_IsObject(root))
		return refuse(made, root,
			&(rig_diag){.where.path = "",
				.what = "the options are not a JSON object",
				.mend = "write {\"month\": 5} or {}"});
	cJSON_ArrayForEach(item, root)
	{
		const rig_status one = take(made, item);
		if (one == RIG_NO_MEMORY)
			return one;
		if (one != RIG_OK)
			status = RIG_BAD_INPUT;
	}
	return status == RIG_OK ? join_readings(made) : status;
}

static rig_answer_request *begin(const rig_file *file, rig_diags *diags)
{
	rig_answer_request *made = calloc(1, sizeof *made);
	if (made == NULL)
		return NULL;
	made->options = rig_answer_defaults();
	made->coach = rig_file_completed(file);
	made->diags = diags;
	return made;
}

static rig_status finish(rig_status status, rig_answer_request *made, rig_answer_request **request)
{
	if (status == RIG_OK)
		*request = made;
	else
		rig_answer_request_free(made);
	return status;
}

rig_status rig_answer_request_of(
	const cJSON *options, const rig_file *file, rig_diags *diags, rig_answer_request **request)
{
	rig_answer_request *made = begin(file, diags);
	return made == NULL ? RIG_NO_MEMORY : finish(take_all(made, options), made, request);
}

rig_status rig_answer_request_read(const char *text, size_t length, const rig_file *file,
	rig_diags *diags, rig_answer_request **request)
{
	rig_answer_request *made = begin(file, diags);
	if (made == NULL)
		return RIG_NO_MEMORY;
	rig_status status = rig_json_read(text, length, diags, &made->json);
	if (status == RIG_OK)
		status = take_all(made, rig_json_root(made->json));
	return finish(status, made, request);
}

rig_answer_options *rig_answer_request_options(rig_answer_request *request)
{
	return &request->options;
}

void rig_answer_request_free(rig_answer_request *request)
{
	if (request == NULL)
		return;
	for (size_t i = 0; i < request->n_lists; i++)
		rig_reading_list_free(request->lists[i]);
	for (size_t i = 0; i < request->n_words; i++)
		free(request->words[i]);
	free(request->readings);
	rig_hourly_year_free(request->weather);
	rig_parts_free(request->parts);
	rig_json_free(request->json);
	free(request);
}
