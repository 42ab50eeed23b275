/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "writer.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "measure.h"

static const double DAYS_A_YEAR = 365.0;
/* Counts of days that round to the end of the count. */
static const double NEARLY = 0.985;

const char *const RIG_MONTH[12] = {"January", "February", "March", "April", "May", "June", "July",
	"August", "September", "October", "November", "December"};
const char *const RIG_MONTH_SHORT[12] = {
	"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

/* The words in the arena; NULL when memory is out, which the document remembers. */
__attribute__((format(printf, 2, 0))) static const char *worded(
	rig_writer *writer, const char *format, va_list values)
{
	va_list again;
	va_copy(again, values);
	const int length = vsnprintf(NULL, 0, format, again);
	va_end(again);
	char *text = length < 0 ? NULL : rig_arena_take(writer->arena, (size_t)length + 1, 1);
	if (text == NULL)
		rig_document_fail(writer->document, RIG_NO_MEMORY);
	else
		vsnprintf(text, (size_t)length + 1, format, values);
	return text;
}

const char *rig_said(rig_writer *writer, const char *format, ...)
{
	va_list values;
	va_start(values, format);
	const char *text = worded(writer, format, values);
	va_end(values);
	return text == NULL ? "" : text;
}

const char *rig_said_buffer(rig_writer *writer, rig_buffer *buffer)
{
	const char *text = "";
	if (buffer->failed)
		rig_document_fail(writer->document, RIG_NO_MEMORY);
	else if (buffer->text != NULL)
		text = rig_said(writer, "%s", buffer->text);
	rig_buffer_free(buffer);
	return text;
}

void rig_ask(rig_writer *writer, rig_ask_rank rank, const char *format, ...)
{
	if (writer->n_asked == RIG_MOST_ASKED)
		return;
	va_list values;
	va_start(values, format);
	const char *text = worded(writer, format, values);
	va_end(values);
	if (text != NULL)
		writer->asked[writer->n_asked++] = (rig_asked){rank, text};
}

/* Without the blank of its first sentence. */
static const char *told(rig_writer *writer, rig_buffer *sentences)
{
	const char *text = rig_said_buffer(writer, sentences);
	return text[0] == ' ' ? text + 1 : text;
}

void rig_tell(rig_writer *writer, rig_part part, const char *question, const char *verdict,
	rig_telling *telling)
{
	const char *first = told(writer, &telling->first);
	const char *more = told(writer, &telling->more);
	if (writer->sheet)
		writer->more[part] = more;
	rig_add_answer(writer->document, question, verdict, "%s%s%s", first,
		writer->sheet || first[0] == '\0' || more[0] == '\0' ? "" : " ",
		writer->sheet ? "" : more);
}

void rig_tell_more(rig_writer *writer, rig_part part)
{
	if (writer->more[part] != NULL && writer->more[part][0] != '\0')
		rig_add_paragraph(writer->document, "%s", writer->more[part]);
}

const char *rig_coach_said(const rig_writer *writer)
{
	return writer->coach->name == NULL ? "a coach without a name" : writer->coach->name;
}

const char *rig_load_said(const rig_writer *writer, int load)
{
	if (load < 0)
		return "battery charger";
	const rig_load *row = &writer->coach->loads[load];
	if (row->name != NULL)
		return row->name;
	return row->appliance != NULL
		       ? rig_measure_label(writer->arena, row->appliance->label, writer->units)
		       : row->id;
}

const char *rig_loads_said(rig_writer *writer, int load, int count)
{
	const char *name = rig_load_said(writer, load);
	return count > 1 ? rig_said(writer, "%s (%d)", name, count) : name;
}

const char *rig_circuit_said(const rig_writer *writer, int circuit)
{
	const rig_circuit *row = &writer->coach->circuits[circuit];
	return row->name != NULL ? row->name : row->id;
}

const char *rig_role_said(rig_bank_role role)
{
	return role == RIG_CHASSIS ? "chassis (starting) battery" : "house battery";
}

const char *rig_bank_said(rig_writer *writer, int bank)
{
	const rig_bank *row = &writer->coach->banks[bank];
	const char *role = rig_role_said(row->role);
	int alike = 0;
	for (size_t i = 0; i < writer->coach->n_banks; i++)
		alike +=
			(writer->coach->banks[i].role == RIG_CHASSIS) == (row->role == RIG_CHASSIS);
	if (alike < 2)
		return role;
	return rig_said(writer, "%s \"%s\"", role, row->name != NULL ? row->name : row->id);
}

const char *rig_origin_said(rig_origin from)
{
	switch (from) {
	case RIG_FROM_STATED:
		return "stated in the coach file";
	case RIG_FROM_MEASURED:
		return "measured";
	case RIG_FROM_NAMEPLATE:
		return "read off a label";
	case RIG_FROM_PROFILE:
		return "typical of its kind";
	case RIG_FROM_ESTIMATED:
		return "estimated";
	case RIG_FROM_COMPUTED:
		return "worked out";
	default:
		return "";
	}
}

static bool any_comma(size_t n, const char *const *names)
{
	for (size_t i = 0; i < n; i++) {
		if (strchr(names[i], ',') != NULL)
			return true;
	}
	return false;
}

const char *rig_joined(rig_writer *writer, size_t n, const char *const *names, size_t most)
{
	rig_buffer words = {0};
	const size_t named = n > most ? most - 1 : n;
	const bool commas = any_comma(named, names);
	const char *between = commas ? "; " : ", ";
	for (size_t i = 0; i < named; i++) {
		if (i > 0)
			rig_buffer_add(&words, i + 1 == n && !commas ? " and " : between);
		rig_buffer_add(&words, names[i]);
	}
	if (named < n)
		rig_buffer_format(&words, "%s %zu more", commas ? "; and" : " and", n - named);
	return rig_said_buffer(writer, &words);
}

/* The last month of the run that starts at first. */
static int run_end(const bool belongs[12], int first)
{
	int last = first;
	while (belongs[(last + 1) % 12] && last + 1 < first + 12)
		last++;
	return last % 12;
}

const char *rig_months_said(rig_writer *writer, const bool belongs[12], bool brief)
{
	const char *const *names = brief ? RIG_MONTH_SHORT : RIG_MONTH;
	const char *runs[12];
	size_t n = 0;
	int total = 0;
	for (int i = 0; i < 12; i++) {
		total += belongs[i];
		if (!belongs[i] || belongs[(i + 11) % 12])
			continue;
		const int last = run_end(belongs, i);
		const bool two = last == (i + 1) % 12;
		runs[n++] = last == i || two ? names[i]
					     : rig_said(writer, "%s to %s", names[i], names[last]);
		if (two)
			runs[n++] = names[last];
	}
	if (total == 12)
		return "every month";
	return total == 0 ? "no month" : rig_joined(writer, n, runs, 12);
}

/* Under two days, hours say more. */
static bool is_short(double days)
{
	return days < 2.0;
}

/* "9 hours", "2.5 days". */
static const char *one_said(rig_writer *writer, double days)
{
	rig_buffer words = {0};
	rig_amount_round(&words, is_short(days) ? days * 24.0 : days, 2);
	const bool one = words.text != NULL && strcmp(words.text, "1") == 0;
	rig_buffer_format(&words, " %s%s", is_short(days) ? "hour" : "day", one ? "" : "s");
	return rig_said_buffer(writer, &words);
}

/* "9 to 30 hours", "19 hours to 3.2 days". */
static const char *span_said(rig_writer *writer, double low, double high)
{
	const char *last = one_said(writer, high);
	if (is_short(low) != is_short(high))
		return rig_said(writer, "%s to %s", one_said(writer, low), last);
	const double scale = is_short(low) ? 24.0 : 1.0;
	return strcmp(one_said(writer, low), last) == 0
		       ? last
		       : rig_said(writer, "%s to %s", rig_amount(writer->arena, low * scale, 2, ""),
				 last);
}

/* "60 days or longer"; where the count ends at a year, a season says more than 365 days. */
static const char *most_said(rig_writer *writer, double most)
{
	return most >= DAYS_A_YEAR ? "a year or longer"
				   : rig_said(writer, "%.0f days or longer", most);
}

const char *rig_days_said(rig_writer *writer, rig_figure days, double most)
{
	if (!rig_figure_given(days))
		return "as long as one likes: nothing draws on it";
	/* what rounds to the end of the count has no other end */
	const double end = most * NEARLY;
	if (days.low >= end)
		return most_said(writer, most);
	if (days.likely >= end)
		return rig_said(writer, "%s (at the poor ends of the figures %s)",
			most_said(writer, most), one_said(writer, days.low));
	const char *likely = one_said(writer, days.likely);
	if (days.high <= days.low)
		return rig_said(writer, "about %s", likely);
	const char *range = days.high >= end
				    ? rig_said(writer, "%s or longer", one_said(writer, days.low))
				    : span_said(writer, days.low, days.high);
	return rig_said(writer, "about %s (%s)", likely, range);
}

const char *rig_days_likely_said(rig_writer *writer, double days)
{
	return rig_said(writer, "about %s", one_said(writer, days));
}

const char *rig_record_said(const rig_place *place)
{
	switch (place->record) {
	case RIG_RECORD_SHORT_CONFIRMED:
		return "the sun there is known from a short record that longer ones nearby confirm";
	case RIG_RECORD_SHORT_UNCONFIRMED:
		return "the sun there is known from a short record that no longer one nearby "
		       "confirms, so the ranges are wider";
	default:
		return NULL;
	}
}

const char *rig_capital(rig_writer *writer, const char *text)
{
	if (text[0] < 'a' || text[0] > 'z')
		return text;
	return rig_said(writer, "%c%s", text[0] - 'a' + 'A', text + 1);
}

/* Lithium takes no charge below some temperature; the other kinds have no such floor. */
static bool is_lithium(const rig_bank *bank)
{
	return bank->kind != NULL && bank->kind->charge_floor_c > -100.0;
}

void rig_battery_cautions(rig_writer *writer)
{
	bool lithium = false;
	bool lead = false;
	for (size_t i = 0; i < writer->coach->n_banks; i++) {
		lithium = lithium || is_lithium(&writer->coach->banks[i]);
		lead = lead || !is_lithium(&writer->coach->banks[i]);
	}
	rig_add_item(writer->document, "A solar panel is live whenever light falls on it, and a "
				       "battery can drive hundreds of "
				       "amps through a tool or a ring. Work on either is for a "
				       "certified technician, by the "
				       "makers' instructions and local codes.");
	if (lead)
		rig_add_item(writer->document, "Lead-acid batteries give off explosive gas while "
					       "they charge. They need air, and no "
					       "flame or spark near them.");
	if (lithium)
		rig_add_item(writer->document, "A lithium battery must not be charged below "
					       "freezing, and its protection must not be "
					       "bypassed. Its maker's limits govern.");
}

void rig_power_cautions(rig_writer *writer)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"This sheet adds up draws. It has not looked at wires, terminals, breakers or the "
		"pedestal. Judging and changing those is work for a licensed electrician, by the "
		"code "
		"that holds there and the makers' instructions.");
	rig_add_item(document, "Never put in a larger breaker or fuse to make a load fit. A "
			       "breaker protects the wire "
			       "behind it.");
	rig_add_item(document,
		"An adapter changes the plug, not what wires and breakers can carry. Have the "
		"pedestal tested for voltage, polarity and ground, and its breaker off, before "
		"plugging in; stay off one that tests wrong.");
}

void rig_low_voltage_caution(rig_writer *writer)
{
	rig_add_item(writer->document,
		"Low voltage overheats compressors and motors. Below about 104 V switch the "
		"largest load off first, and wait three minutes before a compressor starts again.");
}

void rig_generator_caution(rig_writer *writer)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"A generator's exhaust holds carbon monoxide, which kills without smell. A "
		"portable set runs outdoors only, at least 20 ft (6 m) from any opening, "
		"exhaust pointing away; a working carbon monoxide alarm is needed in any "
		"case. Its maker's instructions govern.");
}

void rig_put_number(rig_writer *writer, cJSON *parent, const char *key, double value)
{
	if (isfinite(value))
		rig_json_add_number(&writer->maker, parent, key, value);
	else
		rig_document_fail(writer->document, RIG_BAD_INPUT);
}

void rig_put_figure(
	rig_writer *writer, cJSON *parent, const char *key, rig_figure figure, const char *unit)
{
	if (!rig_figure_given(figure)) {
		rig_json_add_null(&writer->maker, parent, key);
		return;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	rig_put_number(writer, object, "low", figure.low);
	rig_put_number(writer, object, "likely", figure.likely);
	rig_put_number(writer, object, "high", figure.high);
	rig_json_add_text(&writer->maker, object, "unit", unit);
	rig_json_add_text(&writer->maker, object, "from", rig_origin_text(figure.from));
}

void rig_put_index(rig_writer *writer, cJSON *parent, const char *key, long value)
{
	rig_json_add_number(&writer->maker, parent, key, (double)value);
}

void rig_put_numbers(
	rig_writer *writer, cJSON *parent, const char *key, size_t n, const double *values)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, key);
	for (size_t i = 0; i < n; i++)
		rig_put_number(writer, array, NULL, values[i]);
}

void rig_put_place(rig_writer *writer, cJSON *parent, const rig_place *place)
{
	static const char *const RECORD[] = {"long", "short_confirmed", "short_unconfirmed"};
	cJSON *object = rig_json_add_object(&writer->maker, parent, "place");
	rig_json_add_text(&writer->maker, object, "name", place->name);
	rig_json_add_text(&writer->maker, object, "station", place->station);
	rig_put_number(writer, object, "latitude_deg", place->latitude_deg);
	rig_put_number(writer, object, "longitude_deg", place->longitude_deg);
	rig_put_number(writer, object, "elevation_m", place->elevation_m);
	rig_json_add_text(&writer->maker, object, "record", RECORD[place->record]);
}
