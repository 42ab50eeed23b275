/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of a sheet, for one question or for all: answers, figures, what to ask next, what was
 * assumed, cautions. */
#include "rigbudget/report.h"

#include <string.h>

#include "writer.h"

enum {
	ORIGIN_COLUMNS = 3,
	MOST_NAMED = 12,
	MOST_TOLD = 3 /* things to measure or ask, on a sheet of several studies */
};

/* Field of the findings, stem of its parts' names, its part of answers, title of a sheet of it
 * alone ("" for what only stands beside another); in the order of the sheet. */
#define STUDIES(X)                                                                                 \
	X(claims, claim, answers, "What was claimed")                                              \
	X(shore, shore, answer, "Shore power")                                                     \
	X(voltage, voltage, answer, "")                                                            \
	X(sources, sources, answer, "")                                                            \
	X(shed, shed, answer, "Load shedding")                                                     \
	X(solar, solar, answer, "Solar")                                                           \
	X(trip, trip, answer, "Days without hookups")                                              \
	X(readings, readings, answer, "Meter readings")                                            \
	X(size, size, answer, "Upgrade")                                                           \
	X(wiring, wiring, answer, "Wiring")                                                        \
	X(oneline, oneline, answer, "One-line diagram")

/* Field, and the part that asks; whose question decides more comes first. */
#define ASKERS(X)                                                                                  \
	X(claims, rig_claim_next)                                                                  \
	X(readings, rig_readings_next_asks)                                                        \
	X(trip, rig_trip_next)                                                                     \
	X(solar, rig_solar_next)                                                                   \
	X(shore, rig_shore_next)                                                                   \
	X(voltage, rig_voltage_next)                                                               \
	X(sources, rig_sources_next)                                                               \
	X(size, rig_size_next)                                                                     \
	X(wiring, rig_wiring_next)                                                                 \
	X(oneline, rig_oneline_next)                                                               \
	X(shed, rig_shed_next)

#define WRITE(field, part)                                                                         \
	if (findings->field != NULL)                                                               \
		part(writer, findings->field);
#define WRITE_ANSWER(field, noun, answer, title)      WRITE(field, rig_##noun##_##answer)
#define WRITE_FIGURES(field, noun, answer, title)     WRITE(field, rig_##noun##_figures)
#define WRITE_ASSUMPTIONS(field, noun, answer, title) WRITE(field, rig_##noun##_assumptions)
#define WRITE_CAUTIONS(field, noun, answer, title)    WRITE(field, rig_##noun##_cautions)
#define WRITE_DATA(field, noun, answer, title)        WRITE(field, rig_##noun##_data)

#define ANSWER_PART(field, noun, answer, title)                                                    \
	static void answer_##field(rig_writer *writer, const rig_report_findings *findings)        \
	{                                                                                          \
		WRITE_ANSWER(field, noun, answer, title)                                           \
	}
#define FIGURES_PART(field, noun, answer, title)                                                   \
	static void figures_##field(rig_writer *writer, const rig_report_findings *findings)       \
	{                                                                                          \
		WRITE_FIGURES(field, noun, answer, title)                                          \
	}
STUDIES(ANSWER_PART)
STUDIES(FIGURES_PART)

typedef void part_writer(rig_writer *writer, const rig_report_findings *findings);
#define ANSWER_NAME(field, noun, answer, title)  answer_##field,
#define FIGURES_NAME(field, noun, answer, title) figures_##field,
static part_writer *const ANSWERS[] = {STUDIES(ANSWER_NAME)};
static part_writer *const FIGURES[] = {STUDIES(FIGURES_NAME)};
_Static_assert(sizeof ANSWERS / sizeof ANSWERS[0] == RIG_N_PARTS, "a study is no part");

/* Volts and other sources are sections of shore power and stay behind it. */
static const rig_part PARTS_FOR[RIG_N_READERS][RIG_N_PARTS] = {
	[RIG_FOR_BUYER] = {RIG_PART_CLAIMS, RIG_PART_SOLAR, RIG_PART_SHORE, RIG_PART_VOLTAGE,
		RIG_PART_SOURCES, RIG_PART_TRIP, RIG_PART_SHED, RIG_PART_READINGS, RIG_PART_WIRING,
		RIG_PART_ONELINE, RIG_PART_SIZE},
	[RIG_FOR_OWNER] = {RIG_PART_TRIP, RIG_PART_SHED, RIG_PART_SHORE, RIG_PART_VOLTAGE,
		RIG_PART_SOURCES, RIG_PART_SOLAR, RIG_PART_READINGS, RIG_PART_CLAIMS,
		RIG_PART_WIRING, RIG_PART_ONELINE, RIG_PART_SIZE},
	[RIG_FOR_SHOP] = {RIG_PART_WIRING, RIG_PART_ONELINE, RIG_PART_SIZE, RIG_PART_SHORE,
		RIG_PART_VOLTAGE, RIG_PART_SOURCES, RIG_PART_SHED, RIG_PART_SOLAR, RIG_PART_TRIP,
		RIG_PART_READINGS, RIG_PART_CLAIMS}};

static void write_answers(rig_writer *writer, const rig_report_findings *findings)
{
	for (int i = 0; i < RIG_N_PARTS; i++)
		ANSWERS[PARTS_FOR[writer->reader][i]](writer, findings);
}

static void write_figures(rig_writer *writer, const rig_report_findings *findings)
{
	for (int i = 0; i < RIG_N_PARTS; i++)
		FIGURES[PARTS_FOR[writer->reader][i]](writer, findings);
}

/* Those that may stand alone. */
static size_t n_studies(const rig_report_findings *findings)
{
#define COUNT(field, noun, answer, title)                                                          \
	if (findings->field != NULL && (title)[0] != '\0')                                         \
		n++;
	size_t n = 0;
	STUDIES(COUNT)
	return n;
#undef COUNT
}

/* Two studies may ask for one thing for different reasons: the sentence differs after its last
 * semicolon. */
static bool is_asked_before(const rig_writer *writer, size_t i)
{
	const char *text = writer->asked[i].text;
	const char *why = strrchr(text, ';');
	for (size_t j = 0; why != NULL && j < writer->n_asked; j++) {
		const bool before = writer->asked[j].rank < writer->asked[i].rank ||
				    (j < i && writer->asked[j].rank == writer->asked[i].rank);
		if (before && strncmp(writer->asked[j].text, text, (size_t)(why - text)) == 0)
			return true;
	}
	return false;
}

/* The weightiest first; where several studies ask, only as many as a person would do. */
static void write_asked(rig_writer *writer, size_t most)
{
	for (int rank = 0; rank < RIG_N_ASKS; rank++) {
		for (size_t i = 0; i < writer->n_asked && most > 0; i++) {
			if (writer->asked[i].rank != (rig_ask_rank)rank ||
				is_asked_before(writer, i))
				continue;
			rig_add_item(writer->document, "%s", writer->asked[i].text);
			most--;
		}
	}
}

static void write_next(rig_writer *writer, const rig_report_findings *findings)
{
	ASKERS(WRITE)
	if (writer->n_asked == 0)
		return;
	if (writer->sheet) {
		rig_add_list(writer->document, "Measure or ask next");
		write_asked(writer, MOST_TOLD);
		return;
	}
	rig_add_heading(writer->document, 2, "What to measure or ask next");
	rig_add_list(writer->document, "");
	write_asked(writer, writer->n_asked);
	rig_add_paragraph(writer->document,
		"A figure measured and written into the coach file narrows the answers above.");
}

static const char UNITS_SAID[] = "W is watts, A amps, V volts, VA volts times amps; Wh is "
				 "watt-hours, one watt for one hour.";

/* How many of the loads' watts come from where. */
static void write_origins(rig_writer *writer)
{
	static const rig_origin ORDER[] = {RIG_FROM_MEASURED, RIG_FROM_NAMEPLATE, RIG_FROM_STATED,
		RIG_FROM_ESTIMATED, RIG_FROM_PROFILE, RIG_FROM_COMPUTED};
	enum { N_ORDER = sizeof ORDER / sizeof ORDER[0] };
	static const rig_column COLUMNS[ORIGIN_COLUMNS] = {{"origin", "", RIG_ALIGN_LEFT},
		{"loads", "", RIG_ALIGN_RIGHT}, {"which", "", RIG_ALIGN_LEFT}};
	const rig_coach *coach = writer->coach;
	const char *cells[N_ORDER * ORIGIN_COLUMNS];
	const char **names = rig_arena_take(writer->arena, coach->n_loads, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n_rows = 0;
	size_t n_told = 0;
	for (size_t i = 0; i < N_ORDER; i++) {
		size_t n = 0;
		for (size_t j = 0; j < coach->n_loads; j++) {
			if (coach->loads[j].running_w.from == ORDER[i])
				names[n++] = rig_load_said(writer, (int)j);
		}
		if (n == 0)
			continue;
		const char **row = &cells[n_rows++ * ORIGIN_COLUMNS];
		row[0] = rig_capital(writer, rig_origin_said(ORDER[i]));
		row[1] = rig_said(writer, "%zu", n);
		/* the last and longest group needs no names where the others are told */
		row[2] = n > MOST_NAMED && n + n_told == coach->n_loads && n_told > 0
				 ? "all the others"
				 : rig_joined(writer, n, names, MOST_NAMED);
		n_told += n;
	}
	const rig_table table = {
		"Where the watts of the loads come from", ORIGIN_COLUMNS, n_rows, COLUMNS, cells};
	if (n_rows > 0)
		rig_add_table(writer->document, &table);
}

static void write_assumptions(rig_writer *writer, const rig_report_findings *findings)
{
	rig_add_heading(writer->document, 2, "What the figures rest on");
	/* a drawing has no watts */
	if (findings->oneline == NULL || n_studies(findings) > 1)
		write_origins(writer);
	rig_add_list(writer->document, "");
	STUDIES(WRITE_ASSUMPTIONS)
	if (findings->solar != NULL || findings->trip != NULL || findings->claims != NULL ||
		findings->size != NULL)
		rig_add_item(writer->document, "%s", rig_places_credit());
	if (!writer->sheet)
		rig_add_item(writer->document, "%s", UNITS_SAID);
}

static void write_cautions(rig_writer *writer, const rig_report_findings *findings)
{
	rig_add_caution(writer->document, "Cautions");
	STUDIES(WRITE_CAUTIONS)
}

/* What the loads were taken to draw, each figure with its origin. */
static void write_loads(rig_writer *writer, cJSON *data)
{
	cJSON *list = rig_json_add_array(&writer->maker, data, "loads");
	for (size_t i = 0; i < writer->coach->n_loads; i++) {
		const rig_load *load = &writer->coach->loads[i];
		cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
		rig_json_add_text(&writer->maker, object, "id", load->id);
		rig_json_add_text(&writer->maker, object, "name", load->name);
		rig_put_index(writer, object, "count", load->count);
		rig_put_figure(writer, object, "running_w", load->running_w, "W");
		rig_put_figure(writer, object, "power_factor", load->power_factor, "1");
		rig_put_figure(writer, object, "start_a", load->start_a, "A");
		rig_put_figure(writer, object, "duty_frac", load->duty_frac, "1");
		rig_put_figure(writer, object, "daily_use_h", load->daily_use_h, "h");
		rig_json_add_text(&writer->maker, object, "source", load->running_w.source);
	}
}

static void write_data(rig_writer *writer, const rig_report_findings *findings)
{
	cJSON *data = rig_document_data(writer->document);
	rig_json_add_text(&writer->maker, data, "coach", writer->coach->name);
	write_loads(writer, data);
	STUDIES(WRITE_DATA)
	if (writer->maker.failed)
		rig_document_fail(writer->document, RIG_NO_MEMORY);
}

static const rig_place *place_of(const rig_report_findings *findings)
{
	if (findings->solar != NULL)
		return &findings->solar->place;
	if (findings->size != NULL)
		return &findings->size->place;
	if (findings->claims != NULL && findings->claims->has_place)
		return &findings->claims->place;
	const bool from_table = findings->trip != NULL && findings->trip->options.weather == NULL;
	return from_table ? &findings->trip->place : NULL;
}

static void write_top(rig_writer *writer, const rig_report_findings *findings, const char *kind,
	const rig_report_options *options)
{
	rig_document_title(writer->document, "%s: %s", kind, rig_coach_said(writer));
	const rig_place *place = place_of(findings);
	const char *cord = writer->sheet
				   ? rig_said(writer, "Looked at: %s", rig_looked_at_said(writer))
			   : writer->coach->cord_a > 0
				   ? rig_said(writer, "%d A shore cord", writer->coach->cord_a)
				   : "No shore cord stated";
	const bool only_wires = n_studies(findings) == 1 && findings->wiring != NULL;
	if (place == NULL && !only_wires)
		rig_document_subtitle(writer->document, "%s.", cord);
	else if (place != NULL)
		rig_document_subtitle(writer->document, "%s. Weather of %s, %s.", cord, place->name,
			rig_said(writer, "%s above sea level",
				rig_amount_length(
					writer->arena, place->elevation_m, writer->units)));
	const bool dated = options != NULL && options->date != NULL;
	const bool inspected = options != NULL && options->inspector != NULL;
	if (dated && inspected)
		rig_document_subtitle(
			writer->document, "%s. Inspector: %s", options->date, options->inspector);
	else if (dated)
		rig_document_subtitle(writer->document, "%s", options->date);
	else if (inspected)
		rig_document_subtitle(writer->document, "Inspector: %s", options->inspector);
	if (writer->sheet)
		rig_document_subtitle(writer->document, "%s (22 to 47) is a range.", UNITS_SAID);
}

/* The load of which is asked what must go off so that it can run. */
static rig_status find_run(rig_writer *writer, const rig_report_options *options)
{
	if (options == NULL || options->run == NULL)
		return RIG_OK;
	for (size_t i = 0; i < writer->coach->n_loads; i++) {
		const rig_load *load = &writer->coach->loads[i];
		if (load->supply == RIG_AC && strcmp(load->id, options->run) == 0) {
			writer->run = (int)i;
			return RIG_OK;
		}
	}
	return RIG_NOT_FOUND;
}

/* The first page: all that must be read. */
static void write_summary(rig_writer *writer, const rig_report_findings *findings)
{
	write_answers(writer, findings);
	if (!writer->sheet)
		return;
	rig_summary_unplaced(writer, findings);
	rig_summary_meaning(writer, findings);
	write_next(writer, findings);
	rig_summary_assumed(writer, findings);
	rig_summary_cautions(writer, findings);
	rig_add_break(writer->document);
}

static void write_evidence(rig_writer *writer, const rig_report_findings *findings)
{
	write_figures(writer, findings);
	if (!writer->sheet)
		write_next(writer, findings);
	write_assumptions(writer, findings);
}

static rig_status write_sheet(const rig_coach *completed, const rig_report_findings *findings,
	const char *kind, const rig_report_options *options, rig_document **document)
{
	rig_writer writer = {.document = rig_document_new(),
		.arena = rig_arena_new(),
		.coach = completed,
		.units = options == NULL ? RIG_UNITS_US : options->units,
		.reader = options == NULL ? RIG_FOR_BUYER : options->reader,
		.sheet = n_studies(findings) > 1,
		.run = -1};
	writer.maker.unmade = options != NULL && options->answers_only;
	writer.brief = writer.sheet && writer.reader != RIG_FOR_SHOP;
	rig_status status = RIG_NO_MEMORY;
	for (size_t i = 0; options != NULL && i < options->n_compare; i++)
		writer.compare[writer.n_compare++] = options->compare[i];
	if (writer.document == NULL || writer.arena == NULL)
		goto out;
	status = find_run(&writer, options);
	if (status != RIG_OK)
		goto out;
	/* the data come first: they find a figure that is not finite */
	write_data(&writer, findings);
	status = rig_document_status(writer.document);
	if (status != RIG_OK)
		goto out;
	write_top(&writer, findings, kind, options);
	write_summary(&writer, findings);
	if (!writer.maker.unmade)
		write_evidence(&writer, findings);
	write_cautions(&writer, findings);
	if (rig_arena_failed(writer.arena))
		rig_document_fail(writer.document, RIG_NO_MEMORY);
	status = rig_document_status(writer.document);
	if (status == RIG_OK) {
		*document = writer.document;
		writer.document = NULL;
	}
out:
	rig_arena_free(writer.arena);
	rig_document_free(writer.document);
	return status;
}

/* Of a sheet of one study. */
static const char *title_of(const rig_report_findings *findings)
{
#define TITLE(field, noun, answer, title)                                                          \
	if (findings->field != NULL && (title)[0] != '\0')                                         \
		return title;
	STUDIES(TITLE)
#undef TITLE
	return "Finding sheet";
}

rig_status rig_report(const rig_coach *completed, const rig_report_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	return write_sheet(completed, findings,
		n_studies(findings) == 1 ? title_of(findings) : "Finding sheet", options, document);
}

rig_status rig_write_shore(const rig_coach *completed, const rig_shore_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.shore = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_shed(const rig_coach *completed, const rig_shed_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.shed = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_solar(const rig_coach *completed, const rig_solar_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.solar = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_trip(const rig_coach *completed, const rig_trip_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.trip = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_claims(const rig_coach *completed, const rig_claim_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.claims = findings};
	return write_sheet(completed, &only, "What was claimed", options, document);
}

rig_status rig_write_readings(const rig_coach *completed, const rig_readings_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.readings = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_size(const rig_coach *completed, const rig_size_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.size = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_wiring(const rig_coach *completed, const rig_wiring_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.wiring = findings};
	return rig_report(completed, &only, options, document);
}

rig_status rig_write_oneline(const rig_coach *completed, const rig_oneline_findings *findings,
	const rig_report_options *options, rig_document **document)
{
	const rig_report_findings only = {.oneline = findings};
	return rig_report(completed, &only, options, document);
}
