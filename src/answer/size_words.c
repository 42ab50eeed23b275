/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of an upgrade: months, parts that stay, loads, lengths with their units. */
#include "answer/size_words.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/decimal.h"
#include "report/writer.h"

enum { MAX_WORD = 200, N_MONTHS = 12 };

typedef struct {
	const char *ending;
	double si;
} unit;

/* Feet, inches and pounds by definition. */
static const unit LENGTHS[] = {
	{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"ft", 0.3048}, {"in", 0.0254}, {NULL, 0}};
static const unit WEIGHTS[] = {{"kg", 1}, {"lb", 0.45359237}, {NULL, 0}};
static const unit AREAS[] = {{"m2", 1}, {"ft2", 0.09290304}, {NULL, 0}};
static const unit PLAIN[] = {{"", 1}, {NULL, 0}};

/* A word of an option, and how it may look. */
typedef struct {
	const char *option, *allowed, *text;
} word_row;

static rig_status refuse(const rig_asking *asking, const word_row *row, const char *what)
{
	return rig_asking_refuse(asking, RIG_NOT_FOUND,
		&(rig_diag){.where.path = row->option,
			.what = what,
			.found = row->text,
			.allowed = row->allowed,
			.mend = "write it like that, or leave it out"});
}

/* ---- numbers with units ---- */

/* Reads a number with its unit at *at and moves past it; false: there is none. */
static bool take(const char **at, const unit units[], double *value)
{
	double number;
	const char *end = rig_decimal(*at, &number);
	if (end == NULL || number < 0)
		return false;
	const unit *best = NULL;
	for (const unit *it = units; it->ending != NULL; it++)
		if (strncasecmp(end, it->ending, strlen(it->ending)) == 0 &&
			(best == NULL || strlen(it->ending) > strlen(best->ending)))
			best = it;
	if (best == NULL)
		return false;
	*value = number * best->si;
	*at = end + strlen(best->ending);
	return true;
}

/* Lengths parted by the marks, one mark after each but the last: "x" for 2 by 3. */
static bool take_lengths(const char *at, const char *marks, double value_m[])
{
	for (size_t i = 0;; i++) {
		if (!take(&at, LENGTHS, &value_m[i]))
			return false;
		if (marks[i] == '\0')
			return *at == '\0';
		if (*at++ != marks[i])
			return false;
	}
}

/* One number above nothing; without a word the value stays. */
static rig_status read_one(
	const rig_asking *asking, const word_row *row, const unit units[], double *value)
{
	double read = 0;
	const char *at = row->text;
	if (at == NULL)
		return RIG_OK;
	if (!take(&at, units, &read) || *at != '\0' || !(read > 0))
		return refuse(asking, row, "it is not a number with its unit");
	*value = read;
	return RIG_OK;
}

/* ---- lists of words ---- */

/* The next word of a list parted by commas; false: it is empty or far too long. */
static bool next_word(const char **at, char word[MAX_WORD])
{
	const size_t length = strcspn(*at, ",");
	if (length == 0 || length >= MAX_WORD)
		return false;
	memcpy(word, *at, length);
	word[length] = '\0';
	*at += length;
	if (**at == ',' && (*at)[1] != '\0')
		++*at;
	return true;
}

int rig_month_named(const char *word)
{
	double number;
	const char *end = rig_decimal(word, &number);
	for (int month = 1; end != NULL && *end == '\0' && month <= N_MONTHS; month++)
		if (number == month)
			return month - 1;
	const size_t length = strlen(word);
	for (int i = 0; i < N_MONTHS && length >= 3; i++)
		if (strncasecmp(word, RIG_MONTH[i], length) == 0)
			return i;
	return -1;
}

/* "nov-feb" */
static bool take_span(char *word, bool months[N_MONTHS])
{
	char *dash = strchr(word, '-');
	if (dash != NULL)
		*dash = '\0';
	const int first = rig_month_named(word),
		  last = dash != NULL ? rig_month_named(dash + 1) : first;
	if (first < 0 || last < 0)
		return false;
	for (int month = first;; month = (month + 1) % N_MONTHS) {
		months[month] = true;
		if (month == last)
			return true;
	}
}

static rig_status read_months(const rig_asking *asking, bool months[N_MONTHS])
{
	char word[MAX_WORD];
	const word_row row = {
		"months", "such as nov-feb, or jun,jul, or all", asking->options->wish.months};
	const char *at = row.text;
	if (at == NULL)
		return RIG_OK;
	if (asking->options->month >= 0)
		return refuse(asking, &row, "the month is told, too");
	const bool all = strcasecmp(at, "all") == 0;
	for (int month = 0; month < N_MONTHS; month++)
		months[month] = all;
	while (!all && *at != '\0')
		if (!next_word(&at, word) || !take_span(word, months))
			return refuse(asking, &row, "it is not a list of months");
	return *row.text != '\0' ? RIG_OK : refuse(asking, &row, "it is not a list of months");
}

/* ---- what stays and what goes ---- */

static rig_size_stay *stay_named(const char *word, rig_size_options *options)
{
	if (strcmp(word, "panels") == 0)
		return &options->panels;
	if (strcmp(word, "bank") == 0)
		return &options->bank;
	return strcmp(word, "inverter") == 0 ? &options->inverter : NULL;
}

static rig_status read_stays(const rig_asking *asking, const word_row *row, rig_size_stay stay,
	rig_size_options *options)
{
	char word[MAX_WORD];
	const char *at = row->text;
	while (at != NULL && *at != '\0') {
		rig_size_stay *of = next_word(&at, word) ? stay_named(word, options) : NULL;
		if (of == NULL)
			return refuse(asking, row, "it names something else than parts");
		if (*of != RIG_SIZE_EITHER && *of != stay)
			return refuse(asking, row, "keep and replace both name a part");
		*of = stay;
	}
	return RIG_OK;
}

/* ---- loads ---- */

static rig_status read_loads(const rig_asking *asking, rig_size_options *options)
{
	const rig_texts *words = &asking->options->wish.loads;
	for (size_t i = 0; i < words->n; i++) {
		const word_row row = {
			"load", "the id or name of an AC load, or all", words->word[i]};
		if (strcasecmp(row.text, "all") == 0) {
			options->all_loads = true;
			continue;
		}
		const int found = rig_load_named(asking->coach, row.text);
		if (found < 0)
			return refuse(asking, &row, "the file has no such load");
		if (asking->coach->loads[found].supply == RIG_DC)
			return refuse(asking, &row,
				"it is no AC load; loads on direct current draw on the battery "
				"anyway");
		if (options->n_loads == RIG_SIZE_MOST_LOADS)
			return refuse(asking, &row, "these are more than 64 loads");
		options->loads[options->n_loads++] = found;
	}
	return RIG_OK;
}

/* ---- the roof and the room ---- */

static rig_status read_obstacles(rig_asking *asking, rig_floor *roof)
{
	const rig_texts *words = &asking->options->wish.obstacles;
	for (size_t i = 0; i < words->n; i++) {
		double side_m[4];
		const word_row row = {"obstacle", "such as 6ft,2ft,30inx30in", words->word[i]};
		if (i == RIG_FLOOR_OBSTACLES)
			return refuse(asking, &row, "these are more than 64 obstacles");
		if (!take_lengths(row.text, ",,x", side_m))
			return refuse(asking, &row, "it is not a corner and two sides");
		asking->obstacles[i] = (rig_rectangle){side_m[0], side_m[1], side_m[2], side_m[3]};
	}
	roof->n_obstacles = words->n;
	roof->obstacles = asking->obstacles;
	return RIG_OK;
}

static rig_status read_roof(rig_asking *asking, rig_floor *roof)
{
	double side_m[2];
	const rig_size_words *words = &asking->options->wish;
	const word_row row = {"roof", "such as 33ftx8ft or 10mx2.4m", words->roof},
		       gap = {"gap", "such as 1in or 25mm", words->gap};
	if (row.text == NULL && (words->obstacles.n > 0 || gap.text != NULL))
		return refuse(asking, &row, "an obstacle or a gap is told, but no roof");
	if (row.text == NULL)
		return RIG_OK;
	if (!take_lengths(row.text, "x", side_m))
		return refuse(asking, &row, "it is not a length by a width");
	roof->length_m = side_m[0];
	roof->width_m = side_m[1];
	const rig_status status = read_one(asking, &gap, LENGTHS, &roof->gap_m);
	roof->edge_m = roof->gap_m;
	return status == RIG_OK ? read_obstacles(asking, roof) : status;
}

static rig_status read_room(const rig_asking *asking, rig_size_options *options)
{
	double side_m[3];
	const word_row row = {"battery_room", "such as 3ftx18inx12in or 90cmx45cmx30cm",
		asking->options->wish.battery_room};
	if (row.text == NULL)
		return RIG_OK;
	if (!take_lengths(row.text, "xx", side_m))
		return refuse(asking, &row, "it is not a length by a width by a height");
	options->battery_room = (rig_floor){.length_m = side_m[0], .width_m = side_m[1]};
	options->battery_room_height_m = side_m[2];
	return RIG_OK;
}

static rig_status read_runs(const rig_asking *asking, rig_size_options *options)
{
	double run_m[3];
	const word_row row = {"runs", "such as 20ft,6ft,5ft", asking->options->wish.runs};
	if (row.text == NULL)
		return RIG_OK;
	if (!take_lengths(row.text, ",,", run_m) || !(run_m[0] > 0 && run_m[1] > 0 && run_m[2] > 0))
		return refuse(asking, &row, "it is not three lengths");
	options->array_run_m = run_m[0];
	options->controller_run_m = run_m[1];
	options->inverter_run_m = run_m[2];
	return RIG_OK;
}

/* ---- limits ---- */

static rig_status read_limits(const rig_asking *asking, rig_size_options *options)
{
	const rig_size_words *wish = &asking->options->wish;
	const word_row price = {"max_price", "such as 2500", wish->max_price},
		       weight = {"max_weight", "such as 500lb or 220kg", wish->max_weight},
		       area = {"max_area", "such as 80ft2 or 7.5m2", wish->max_area};
	rig_status status = read_one(asking, &price, PLAIN, &options->price_max);
	if (status == RIG_OK)
		status = read_one(asking, &weight, WEIGHTS, &options->weight_max_kg);
	if (status == RIG_OK)
		status = read_one(asking, &area, AREAS, &options->area_max_m2);
	if (wish->max_panels >= 0)
		options->most_panels = (int)wish->max_panels;
	if (wish->max_batteries >= 0)
		options->most_batteries = (int)wish->max_batteries;
	return status;
}

rig_status rig_size_compared(rig_asking *asking)
{
	char word[MAX_WORD];
	const word_row row = {"compare", "such as 1,3, up to four", asking->options->wish.compare};
	const char *at = row.text;
	while (at != NULL && *at != '\0') {
		double number = 0;
		const char *end = next_word(&at, word) ? rig_decimal(word, &number) : NULL;
		if (end == NULL || *end != '\0' || !(number >= 1 && number <= 1e6) ||
			number != (int)number || asking->n_compare == RIG_MOST_COMPARED)
			return refuse(asking, &row, "it is not a list of options by number");
		asking->compare[asking->n_compare++] = (int)number - 1;
	}
	return RIG_OK;
}

rig_status rig_size_words_read(rig_asking *asking, rig_size_options *options)
{
	const rig_size_words *words = &asking->options->wish;
	const word_row keep = {"keep", "of panels,bank,inverter", words->keep},
		       replace = {"replace", "of panels,bank,inverter", words->replace};
	rig_status status = read_months(asking, options->months);
	if (status == RIG_OK)
		status = read_stays(asking, &keep, RIG_SIZE_KEEP, options);
	if (status == RIG_OK)
		status = read_stays(asking, &replace, RIG_SIZE_REPLACE, options);
	if (status == RIG_OK)
		status = read_loads(asking, options);
	if (status == RIG_OK)
		status = read_limits(asking, options);
	if (status == RIG_OK)
		status = read_roof(asking, &options->roof);
	if (status == RIG_OK)
		status = read_room(asking, options);
	return status == RIG_OK ? read_runs(asking, options) : status;
}
