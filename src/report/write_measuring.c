/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to measure next, in words. */
#include <math.h>

#include "writer.h"

static const char *load_said(rig_writer *writer, const rig_measure *measure, const char *what)
{
	return rig_said(writer, "%s \"%s\"", what, rig_load_said(writer, measure->index));
}

static const char *array_said(rig_writer *writer, const rig_measure *measure, const char *what)
{
	const char *name = measure->index < 0 ? NULL : writer->coach->arrays[measure->index].name;
	return name == NULL ? what : rig_said(writer, "%s, \"%s\"", what, name);
}

static const char *bank_measure_said(rig_writer *writer, const rig_measure *measure)
{
	const char *bank = rig_bank_said(writer, measure->index);
	switch (measure->kind) {
	case RIG_MEASURE_STANDING:
		return rig_said(writer, "what the %s loses with everything off", bank);
	case RIG_MEASURE_USABLE:
		return rig_said(writer, "how far the %s may be drawn down", bank);
	case RIG_MEASURE_KEEPS:
		return rig_said(writer, "what the %s keeps of a charge", bank);
	default:
		return rig_said(writer, "what the %s holds", bank);
	}
}

static const char *wire_said(rig_writer *writer, const rig_measure *measure, const char *what)
{
	const rig_coach *coach = writer->coach;
	if (measure->index < 0 || (size_t)measure->index >= coach->n_wires)
		return rig_said(writer, "%s the wire", what);
	const rig_wire *wire = &coach->wires[measure->index];
	return rig_said(writer, "%s \"%s\"", what, wire->name != NULL ? wire->name : wire->id);
}

const char *rig_measure_name_said(rig_writer *writer, const rig_measure *measure)
{
	switch (measure->kind) {
	case RIG_MEASURE_AC_LOAD:
	case RIG_MEASURE_DC_LOAD:
		return load_said(writer, measure, "the draw of");
	case RIG_MEASURE_USE:
		return load_said(writer, measure, "the hours of");
	case RIG_MEASURE_LOAD_DAY:
		return load_said(writer, measure, "a day's use of");
	case RIG_MEASURE_FACTOR:
		return load_said(writer, measure, "the power factor of");
	case RIG_MEASURE_LEG:
		return load_said(writer, measure, "the leg that feeds");
	case RIG_MEASURE_CHARGER:
		return "the draw of the battery charger";
	case RIG_MEASURE_STANDING:
	case RIG_MEASURE_CAPACITY:
	case RIG_MEASURE_USABLE:
	case RIG_MEASURE_KEEPS:
		return bank_measure_said(writer, measure);
	case RIG_MEASURE_PANEL_W:
		return array_said(writer, measure, "the watts of the panel");
	case RIG_MEASURE_PANEL_LOSSES:
		return array_said(writer, measure, "what the panel loses");
	case RIG_MEASURE_INVERTER:
		return "the inverter's own draw";
	case RIG_MEASURE_OPEN_V:
		return "the volts at the pedestal";
	case RIG_MEASURE_SOURCE:
		return "how far the pedestal's volts fall under load";
	case RIG_MEASURE_CORD:
		return "the cord";
	case RIG_MEASURE_SUPPLY_W:
		return "the rated watts of the source";
	case RIG_MEASURE_WIRE_A:
		return wire_said(writer, measure, "the amps through");
	case RIG_MEASURE_WIRE_M:
		return wire_said(writer, measure, "the length of");
	case RIG_MEASURE_WIRE_HEAT:
		return wire_said(writer, measure, "the air about");
	case RIG_MEASURE_HEAT_LOSS:
		return "how the coach loses and gains heat";
	case RIG_MEASURE_SUN:
		return "the sun of the place";
	case RIG_MEASURE_WEATHER:
	case RIG_N_MEASURES:
		break;
	}
	return "the weather";
}

static const char *time_said(rig_writer *writer, double minutes)
{
	if (minutes < 90.0)
		return rig_amount(writer->arena, minutes, 2, "minutes");
	return rig_amount(writer->arena, minutes / 60.0, 2, "hours");
}

static const char *why_said(rig_writer *writer, const char *about, const rig_measure *measure)
{
	const double percent = 100.0 * measure->share_frac;
	const char *share = percent < 0.5
				    ? NULL
				    : rig_said(writer, "it makes %s percent of the doubt about %s",
					      rig_amount(writer->arena, percent, 2, ""), about);
	/* a summary has no room for shares */
	if (share == NULL || (writer->sheet && measure->decides))
		return "the answer hangs on it";
	return measure->decides ? rig_said(writer, "%s, and the answer hangs on it", share) : share;
}

void rig_ask_measures(rig_writer *writer, const char *about, size_t n, const rig_measure *measures)
{
	for (size_t i = 0; i < n; i++) {
		const rig_measure_way *way = rig_measure_way_of(measures[i].kind);
		/* one of each study comes before the second of any */
		const int later = (i > 0) + !measures[i].decides;
		const rig_ask_rank rank = (rig_ask_rank)(RIG_ASK_DECIDES + later);
		rig_ask(writer, rank, "%s (%s, %s%s): %s; %s.",
			rig_capital(writer, rig_measure_name_said(writer, &measures[i])), way->tool,
			time_said(writer, way->minutes),
			way->skill == RIG_SKILL_ELECTRICIAN ? ", by a licensed electrician" : "",
			way->how, why_said(writer, about, &measures[i]));
	}
}

void rig_put_measures(rig_writer *writer, cJSON *parent, size_t n, const rig_measure *measures)
{
	static const char *const KIND[RIG_N_MEASURES] = {"ac_load", "dc_load", "use", "load_day",
		"power_factor", "leg", "charger", "standing", "capacity", "usable", "keeps",
		"panel_w", "panel_losses", "inverter", "open_v", "source", "cord", "supply_w",
		"wire_a", "wire_m", "wire_heat", "heat_loss", "sun", "weather"};
	static const char *const SKILL[] = {"anyone", "meter", "electrician"};
	rig_json_maker *maker = &writer->maker;
	cJSON *list = rig_json_add_array(maker, parent, "measures");
	for (size_t i = 0; i < n; i++) {
		const rig_measure_way *way = rig_measure_way_of(measures[i].kind);
		cJSON *object = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, object, "kind", KIND[measures[i].kind]);
		rig_json_add_text(
			maker, object, "name", rig_measure_name_said(writer, &measures[i]));
		rig_put_index(writer, object, "index", measures[i].index);
		rig_put_number(writer, object, "share_frac", measures[i].share_frac);
		rig_json_add_truth(maker, object, "decides", measures[i].decides);
		rig_json_add_text(maker, object, "tool", way->tool);
		rig_put_number(writer, object, "minutes", way->minutes);
		rig_json_add_text(maker, object, "skill", SKILL[way->skill]);
		rig_json_add_text(maker, object, "how", way->how);
	}
}
