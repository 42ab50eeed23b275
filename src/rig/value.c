/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/suggest.h"
#include "rig/reader.h"

enum { MOST_TABLE_WORDS = 12, MAX_TABLE_WORDS = 400 };

static rig_spot spot_of(const rig_value_place *place)
{
	return (rig_spot){.record = place->record, .key = place->name};
}

static bool wrong(rig_reader *reader, const rig_value_place *place, const cJSON *value,
	const rig_saying *saying)
{
	const rig_spot spot = spot_of(place);
	rig_saying full = *saying;
	if (full.found == NULL)
		full.found = rig_found_text(reader, value);
	rig_say_fault(reader, &spot, &full);
	return false;
}

/* "running_w is not a number" */
static const char *is_not(rig_reader *reader, const rig_value_place *place, const char *what)
{
	return rig_words_of(reader, "%s is not %s", place->name, what);
}

static const char *word_at(const void *context, size_t i)
{
	return ((rig_words)context)[i].text;
}

static const char *word_near(rig_words words, const char *word)
{
	size_t n = 0;
	while (words[n].text != NULL)
		n++;
	return rig_suggest(word, n, word_at, words);
}

/* Whether a text is one; says so if not. */
static bool is_text(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!cJSON_IsString(value))
		return wrong(reader, place, value,
			&(rig_saying){.what = is_not(reader, place, "a text"),
				.allowed = "a text",
				.mend = rig_words_of(reader, "write it in quotes, such as %s",
					key->example == NULL ? "\"text\"" : key->example)});
	const size_t length = strlen(value->valuestring);
	if (length > RIG_MAX_TEXT)
		return wrong(reader, place, value,
			&(rig_saying){.what = rig_words_of(reader, "%s is too long", place->name),
				.found = rig_words_of(reader, "%zu bytes", length),
				.allowed = rig_words_of(reader, "at most %d bytes", RIG_MAX_TEXT),
				.mend = "shorten it"});
	return true;
}

static bool read_text(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!is_text(reader, place, key, value))
		return false;
	if (key->required && value->valuestring[0] == '\0')
		return wrong(reader, place, value,
			&(rig_saying){.what = rig_words_of(reader, "%s is empty", place->name),
				.allowed = "a text",
				.mend = "write something"});
	const char *copy = rig_arena_text(reader->arena, value->valuestring);
	reader->no_memory |= copy == NULL;
	*(const char **)rig_key_field(key, reader->records[place->record].into) = copy;
	return true;
}

static bool read_format(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	const char *format = rig_format_of(reader->records[0].object);
	if (!is_text(reader, place, key, value))
		return false;
	if (strcmp(value->valuestring, format) == 0)
		return read_text(reader, place, key, value);
	const bool ours = strncmp(value->valuestring, format, strcspn(format, "/") + 1) == 0;
	return wrong(reader, place, value,
		&(rig_saying){
			.what = ours ? "the file is of a version that this program does not read"
				     : "the file is of another format",
			.allowed = rig_words_of(reader, "\"%s\"", format),
			.mend = ours ? rig_words_of(reader,
					       "use a newer program, or write \"%s\" "
					       "if the file is of that version",
					       format)
				     : rig_words_of(reader, "write \"%s\"", format)});
}

static bool is_id(const char *id)
{
	const size_t length = strspn(id, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
					 "0123456789-_");
	return length > 0 && length <= RIG_MAX_ID && id[length] == '\0';
}

static bool read_id(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!read_text(reader, place, key, value))
		return false;
	if (is_id(value->valuestring))
		return true;
	return wrong(reader, place, value,
		&(rig_saying){.what = is_not(reader, place, "an id"),
			.allowed = "1 to 64 letters a to z, digits, - and _",
			.mend = "name it plainly, such as \"galley_1\"; put the rest into "
				"\"name\""});
}

typedef struct {
	rig_target target;
} table;

static const char *table_at(const void *context, size_t i)
{
	return rig_target_at(((const table *)context)->target, i);
}

/* What to do about an id that a table of the library does not have. */
static const char *table_advice(rig_reader *reader, rig_target target, const char *id)
{
	const table of = {target};
	const char *near = rig_suggest(id, rig_target_count(target), table_at, &of);
	if (near != NULL)
		return rig_mean_text(reader, near);
	return target == RIG_TO_CONDUCTOR
		       ? "write the gauge as printed, from \"24\" to \"1\" or "
			 "from \"1/0\" to \"4/0\""
		       : rig_words_of(reader, "see `rigbudget list %s`", rig_target_list(target));
}

/* The ids of a short table; NULL of a long one. */
static const char *short_table(rig_reader *reader, rig_target target)
{
	char words[MAX_TABLE_WORDS] = "one of ";
	const size_t n = rig_target_count(target);
	if (n > MOST_TABLE_WORDS)
		return NULL;
	size_t length = strlen(words);
	for (size_t i = 0; i < n && length < sizeof words; i++)
		length += (size_t)snprintf(words + length, sizeof words - length, "%s%s",
			i > 0 ? ", " : "", rig_target_at(target, i));
	return rig_words_of(reader, "%s", words);
}

/* A reference to a table of the library; those to lists of the file wait until all are read. */
static bool read_reference(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!read_text(reader, place, key, value))
		return false;
	if (!rig_target_is_table(key->target) ||
		rig_target_find(key->target, value->valuestring) >= 0)
		return true;
	return wrong(reader, place, value,
		&(rig_saying){.what = rig_words_of(reader, "there is no %s of that name",
				      rig_target_word(key->target)),
			.allowed = short_table(reader, key->target),
			.mend = table_advice(reader, key->target, value->valuestring)});
}

static bool read_references(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!cJSON_IsArray(value))
		return wrong(reader, place, value,
			&(rig_saying){.what = is_not(reader, place, "a list"),
				.allowed = rig_words_of(
					reader, "a list of %s ids", rig_target_word(key->target)),
				.mend = rig_words_of(reader, "write %s", key->example)});
	const int n = cJSON_GetArraySize(value);
	if (n < key->low || n > key->high)
		return wrong(reader, place, value,
			&(rig_saying){.what = rig_words_of(reader, "%s has too %s items",
					      place->name, n < key->low ? "few" : "many"),
				.found = rig_words_of(reader, "%d", n),
				.allowed =
					rig_words_of(reader, "%.0f to %.0f", key->low, key->high),
				.mend = n < key->low ? "name a load" : "split the list"});
	const char **list = rig_arena_take(reader->arena, (size_t)n, sizeof *list);
	reader->no_memory |= list == NULL;
	bool right = list != NULL;
	size_t i = 0;
	for (const cJSON *item = value->child; item != NULL && list != NULL; item = item->next) {
		list[i++] = item->valuestring;
		if (cJSON_IsString(item))
			continue;
		right = false;
		const rig_spot spot = {.record = place->record, .key = place->name, .item = (int)i};
		rig_say_fault(reader, &spot,
			&(rig_saying){.what = "the item is not an id",
				.found = rig_found_text(reader, item),
				.allowed = rig_words_of(
					reader, "a %s id", rig_target_word(key->target)),
				.mend = "write the id in quotes"});
	}
	if (!right)
		return false;
	void *into = reader->records[place->record].into;
	for (i = 0; i < (size_t)n; i++) {
		list[i] = rig_arena_text(reader->arena, list[i]);
		reader->no_memory |= list[i] == NULL;
	}
	*(const char ***)rig_key_field(key, into) = list;
	*(size_t *)((char *)into + key->count_offset) = (size_t)n;
	return true;
}

static bool read_yes_no(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!cJSON_IsBool(value))
		return wrong(reader, place, value,
			&(rig_saying){.what = is_not(reader, place, "true or false"),
				.allowed = "true or false",
				.mend = "write true or false without quotes"});
	*(rig_choice *)rig_key_field(key, reader->records[place->record].into) =
		cJSON_IsTrue(value) ? RIG_YES : RIG_NO;
	return true;
}

/* What to do about a value that is not a number. */
static const char *number_advice(const cJSON *value)
{
	if (!cJSON_IsString(value))
		return cJSON_IsNull(value) ? "leave the key out if it is not known"
					   : "write a number";
	const char *text = value->valuestring;
	const size_t digits = strspn(text, "0123456789.+-eE ");
	if (digits > 0 && text[digits] == '\0')
		return "write the number without quotes";
	return digits > 0 ? "write the number alone; the unit is in the key" : "write a number";
}

static bool read_whole(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	const double number = cJSON_IsNumber(value) ? value->valuedouble : NAN;
	if (number >= key->low && number <= key->high && floor(number) == number) {
		*(int *)rig_key_field(key, reader->records[place->record].into) = (int)number;
		return true;
	}
	const bool outside = number < key->low || number > key->high;
	return wrong(reader, place, value,
		&(rig_saying){
			.what = isnan(number) ? is_not(reader, place, "a number")
				: outside ? rig_words_of(reader, "%s is out of range", place->name)
					  : is_not(reader, place, "a whole number"),
			.allowed = rig_range_text(reader, key, 0),
			.mend = isnan(number) ? number_advice(value) : "check the number"});
}

static bool read_number(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	for (size_t i = 0; key->words[i].text != NULL; i++) {
		if (cJSON_IsNumber(value) && value->valuedouble == key->words[i].value) {
			*(int *)rig_key_field(key, reader->records[place->record].into) =
				key->words[i].value;
			return true;
		}
	}
	return wrong(reader, place, value,
		&(rig_saying){.what = rig_words_of(
				      reader, "%s is none of the allowed numbers", place->name),
			.allowed = rig_choices_text(reader, key->words),
			.mend = cJSON_IsNumber(value) ? "choose the one on the plug"
						      : number_advice(value)});
}

/* The word's value, or -1 with a fault. */
static int choice_of(rig_reader *reader, const rig_spot *spot, const cJSON *value, rig_words words)
{
	for (size_t i = 0; cJSON_IsString(value) && words[i].text != NULL; i++)
		if (strcmp(words[i].text, value->valuestring) == 0)
			return words[i].value;
	const char *near = cJSON_IsString(value) ? word_near(words, value->valuestring) : NULL;
	rig_say_fault(reader, spot,
		&(rig_saying){.what = rig_words_of(reader, "%s is none of the allowed words",
				      spot->part == NULL ? spot->key : spot->part),
			.found = rig_found_text(reader, value),
			.allowed = rig_choices_text(reader, words),
			.mend = near == NULL ? "choose one of them, in quotes"
					     : rig_mean_text(reader, near)});
	return -1;
}

static bool read_choice(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	const rig_spot spot = spot_of(place);
	const int choice = choice_of(reader, &spot, value, key->words);
	if (choice < 0)
		return false;
	*(int *)rig_key_field(key, reader->records[place->record].into) = choice;
	return true;
}

/* A number in the key's range, in SI; part is where it stands in a figure's object, or NULL. */
static bool figure_number(rig_reader *reader, const rig_spot *spot, const rig_key *key,
	const cJSON *value, double *si)
{
	unsigned unit = 0;
	rig_key_find(rig_keys_of(reader->records[spot->record].object), spot->key, &unit);
	const char *name = spot->part == NULL ? spot->key : spot->part;
	if (!cJSON_IsNumber(value)) {
		rig_say_fault(reader, spot,
			&(rig_saying){.what = rig_words_of(reader, "%s is not a number", name),
				.found = rig_found_text(reader, value),
				.allowed = rig_range_text(reader, key, unit),
				.mend = number_advice(value)});
		return false;
	}
	const double number = rig_key_to_si(key, unit, value->valuedouble);
	if (number < key->low || number > key->high) {
		rig_say_fault(reader, spot,
			&(rig_saying){.what = rig_words_of(reader, "%s is out of range", name),
				.found = rig_found_text(reader, value),
				.allowed = rig_range_text(reader, key, unit),
				.mend = key->high <= 1 && key->low >= 0 && number > 1 &&
							number <= 100
						? rig_words_of(reader,
							  "write percent as a share: %.6g",
							  number / 100)
						: "check the number and its unit"});
		return false;
	}
	*si = number;
	return true;
}

typedef struct {
	const cJSON *low, *likely, *high, *from, *note;
} figure_parts;

static const char *part_at(const void *context, size_t i)
{
	(void)context;
	return RIG_FIGURE_PARTS[i].text;
}

/* Sorts the members of a figure's object; says so of those that do not belong there. */
static bool sort_parts(
	rig_reader *reader, const rig_value_place *place, const cJSON *value, figure_parts *parts)
{
	const cJSON **slot[] = {
		&parts->low, &parts->likely, &parts->high, &parts->from, &parts->note};
	bool right = true;
	for (const cJSON *member = value->child; member != NULL; member = member->next) {
		size_t i = 0;
		while (i < RIG_N_FIGURE_PARTS &&
			strcmp(member->string, RIG_FIGURE_PARTS[i].text) != 0)
			i++;
		if (i < RIG_N_FIGURE_PARTS) {
			*slot[i] = member;
			continue;
		}
		right = false;
		const rig_spot spot = {.record = place->record,
			.key = place->name,
			.part = member->string,
			.on_key = true};
		const char *near = rig_suggest(member->string, RIG_N_FIGURE_PARTS, part_at, NULL);
		rig_say_fault(reader, &spot,
			&(rig_saying){.what = "the figure has no such key",
				.found = rig_words_of(reader, "\"%.60s\"", member->string),
				.allowed = "low, likely, high, from and note",
				.mend = near == NULL ? "take it out"
						     : rig_mean_text(reader, near)});
	}
	return right;
}

/* Whether the parts that belong together are there. */
static bool parts_suffice(rig_reader *reader, const rig_value_place *place, const cJSON *value,
	const figure_parts *parts)
{
	const char *missing = parts->likely == NULL                       ? "likely"
			      : parts->from == NULL                       ? "from"
			      : parts->low == NULL && parts->high != NULL ? "low"
			      : parts->high == NULL && parts->low != NULL ? "high"
									  : NULL;
	if (missing == NULL)
		return true;
	return wrong(reader, place, value,
		&(rig_saying){.what = rig_words_of(reader, "the figure has no \"%s\"", missing),
			.found = "an object",
			.allowed = "likely and from, with both of low and high or neither",
			.mend = strcmp(missing, "from") == 0
					? "add \"from\": measured, nameplate, profile or estimated"
					: rig_words_of(reader, "add \"%s\"", missing)});
}

/* The numbers, the origin and the note; each fault at its own place. */
static bool read_parts(rig_reader *reader, const rig_value_place *place, const rig_key *key,
	const figure_parts *parts, rig_figure *figure)
{
	const struct {
		const cJSON *value;
		const char *name;
		double *into;
	} NUMBERS[] = {{parts->low, "low", &figure->low},
		{parts->likely, "likely", &figure->likely}, {parts->high, "high", &figure->high}};
	bool right = true;
	rig_spot spot = spot_of(place);
	for (size_t i = 0; i < 3; i++) {
		spot.part = NUMBERS[i].name;
		if (NUMBERS[i].value != NULL)
			right &= figure_number(
				reader, &spot, key, NUMBERS[i].value, NUMBERS[i].into);
	}
	spot.part = "from";
	const int from = choice_of(reader, &spot, parts->from, RIG_ORIGIN_WORDS);
	figure->from = from < 0 ? RIG_FROM_NOTHING : (rig_origin)from;
	if (parts->note == NULL)
		return right && from >= 0;
	if (!cJSON_IsString(parts->note) || strlen(parts->note->valuestring) > RIG_MAX_TEXT) {
		spot.part = "note";
		rig_say_fault(reader, &spot,
			&(rig_saying){.what = "the note is not a text of at most 4096 bytes",
				.found = rig_found_text(reader, parts->note),
				.allowed = "a text",
				.mend = "write it in quotes, and shortly"});
		return false;
	}
	figure->source = rig_arena_text(reader->arena, parts->note->valuestring);
	reader->no_memory |= figure->source == NULL;
	return right && from >= 0;
}

static bool read_range(rig_reader *reader, const rig_value_place *place, const rig_key *key,
	const cJSON *value, rig_figure *figure)
{
	figure_parts parts = {0};
	const bool sorted = sort_parts(reader, place, value, &parts);
	if (!sorted || !parts_suffice(reader, place, value, &parts) ||
		!read_parts(reader, place, key, &parts, figure))
		return false;
	if (parts.low == NULL || parts.high == NULL) {
		figure->low = figure->high = figure->likely;
		return true;
	}
	if (figure->low <= figure->likely && figure->likely <= figure->high)
		return true;
	return wrong(reader, place, value,
		&(rig_saying){.what = "low, likely and high are not in order",
			.found = rig_words_of(reader, "%s, %s, %s",
				rig_number_text(reader, parts.low->valuedouble),
				rig_number_text(reader, cJSON_GetNumberValue(parts.likely)),
				rig_number_text(reader, parts.high->valuedouble)),
			.allowed = "low <= likely <= high",
			.mend = "put them in order"});
}

static bool read_figure(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	rig_figure figure = {.unit = (unsigned char)place->unit};
	if (cJSON_IsObject(value)) {
		if (!read_range(reader, place, key, value, &figure))
			return false;
	} else {
		const rig_spot spot = spot_of(place);
		if (!figure_number(reader, &spot, key, value, &figure.likely))
			return false;
		figure.low = figure.high = figure.likely;
		figure.from = RIG_FROM_STATED;
	}
	*(rig_figure *)rig_key_field(key, reader->records[place->record].into) = figure;
	return true;
}

bool rig_read_value(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	static bool (*const READ[])(rig_reader *, const rig_value_place *, const rig_key *,
		const cJSON *) = {[RIG_KEY_TEXT] = read_text,
		[RIG_KEY_FORMAT] = read_format,
		[RIG_KEY_ID] = read_id,
		[RIG_KEY_REFERENCE] = read_reference,
		[RIG_KEY_REFERENCES] = read_references,
		[RIG_KEY_YES_NO] = read_yes_no,
		[RIG_KEY_WHOLE] = read_whole,
		[RIG_KEY_CHOICE] = read_choice,
		[RIG_KEY_NUMBER] = read_number,
		[RIG_KEY_FIGURE] = read_figure};
	return READ[key->kind](reader, place, key, value);
}
