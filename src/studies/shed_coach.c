/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_coach.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/phasor.h"
#include "rigbudget/trip.h"
#include "studies/voltage_feed.h"

enum { USUAL_PRIORITY = 5, LEAST_KEPT = 9 };
static const double HOUR_S = 3600.0, DAY_H = 24.0, HOT_V = 120.0;
/* Loads rated above this are on both hots: half way between 120 and 240 V. */
static const double TWO_HOTS_ABOVE_V = 180.0;

/* ---- figures ---- */

static bool load_is_sound(const rig_load *load)
{
	return shed_in_order(load->running_w, 0, 1e9) && shed_in_order(load->volts_v, 1, 1e6) &&
	       shed_in_order(load->power_factor, 0.01, 1) && shed_in_order(load->duty_frac, 0, 1) &&
	       shed_in_order(load->daily_use_h, 0, DAY_H);
}

static int count_of(const rig_load *load)
{
	return load->count > 0 ? load->count : 1;
}

int shed_priority_of(const rig_coach *coach, int load)
{
	if (load < 0)
		return USUAL_PRIORITY;
	const int priority = coach->loads[load].priority;
	return priority >= 1 && priority <= LEAST_KEPT ? priority : USUAL_PRIORITY;
}

/* FNV-1a of an id: the stream of a load does not know its place in the file. */
static uint32_t key_of(const char *id)
{
	uint32_t hash = 2166136261u;
	for (; id && *id; id++)
		hash = (hash ^ (unsigned char)*id) * 16777619u;
	return hash;
}

/* ---- loads ---- */

typedef struct {
	bool off;
	double use_h;
	int from_hour, to_hour;
} use_of_load;

static use_of_load use_of(const rig_coach *coach, int index, int habit)
{
	const rig_load *load = &coach->loads[index];
	use_of_load use = {
		false, shed_end_of(load->daily_use_h, 0, DAY_H), load->from_hour, load->to_hour};
	if (habit < 0)
		return use;
	const rig_habit *pattern = &coach->habits[habit];
	for (size_t i = 0; i < pattern->n_use; i++) {
		if (pattern->use[i].load_index != index)
			continue;
		use.use_h = shed_end_of(pattern->use[i].daily_use_h, 0, use.use_h);
		if (pattern->use[i].from_hour >= 0) {
			use.from_hour = pattern->use[i].from_hour;
			use.to_hour = pattern->use[i].to_hour;
		}
		return use;
	}
	use.off = pattern->only == RIG_YES && load->always_on != RIG_YES;
	return use;
}

static bool out_of_season(const shed_class *class, const shed_climate *climate)
{
	return (class->cold_only && !climate->heats) || (class->hot_only && !climate->cools) ||
	       (class->never_cold && climate->heats) ||
	       ((class->cools || class->heats) && !(class->cools && climate->cools) &&
		       !(class->heats && climate->heats));
}

/* Share of the time that a thermostat of its own may keep something on before it is as good as
 * always on. */
static const double NEARLY_ALWAYS = 0.98;

static rig_shed_behaviour behaviour_of(const rig_load *load, const shed_class *class,
	const use_of_load *use, const shed_climate *climate)
{
	const double duty_frac = shed_end_of(load->duty_frac, 0, 1);
	if (use->off || use->use_h <= 0 || duty_frac <= 0 || out_of_season(class, climate))
		return RIG_SHED_IDLE;
	if (load->always_on == RIG_YES)
		return RIG_SHED_STEADY;
	if (class->cools || class->heats)
		return climate->cools ? RIG_SHED_COOLS : RIG_SHED_HEATS;
	if (class->water)
		return RIG_SHED_WATER;
	if (class->cabinet && duty_frac < NEARLY_ALWAYS)
		return RIG_SHED_CABINET;
	if (class->charges)
		return RIG_SHED_CHARGES;
	return use->use_h >= DAY_H && duty_frac >= NEARLY_ALWAYS ? RIG_SHED_STEADY : RIG_SHED_USED;
}

/* A day is cut into so many sessions at most; longer ones then. */
static const double MOST_SESSIONS = 60.0;

static void plan_use(
	const rig_load *load, const shed_class *class, const use_of_load *use, shed_unit *unit)
{
	memcpy(unit->window_s, class->window_h, sizeof unit->window_s);
	if (use->from_hour >= 0 && use->to_hour >= 0) {
		const double span_h = (double)((use->to_hour - use->from_hour + 24) % 24);
		unit->window_s[0][0] = use->from_hour;
		unit->window_s[0][1] = use->from_hour + (span_h > 0 ? span_h : DAY_H);
		unit->window_s[1][0] = unit->window_s[1][1] = 0;
	}
	double window_h = 0;
	for (int i = 0; i < 2; i++)
		window_h += unit->window_s[i][1] - unit->window_s[i][0];
	if (use->use_h > window_h) { /* it is used longer than it is usual: at any time */
		unit->window_s[0][0] = unit->window_s[1][0] = unit->window_s[1][1] = 0;
		unit->window_s[0][1] = DAY_H;
	}
	double longest_s = 0;
	for (int i = 0; i < 2; i++) {
		unit->window_s[i][0] *= HOUR_S;
		unit->window_s[i][1] *= HOUR_S;
		longest_s = fmax(longest_s, unit->window_s[i][1] - unit->window_s[i][0]);
	}
	unit->use_s = use->use_h * HOUR_S;
	unit->duty_frac = shed_end_of(load->duty_frac, 0, 1);
	unit->cycle_s = class->cycle_s;
	unit->session_s = fmin(class->session_minutes * 60, longest_s);
	if (use->use_h >= DAY_H)
		unit->session_s = SHED_DAY_S;
	else if (unit->use_s > unit->session_s) /* as many as it takes, all alike */
		unit->session_s =
			unit->use_s / fmin(MOST_SESSIONS, ceil(unit->use_s / unit->session_s));
	const double sessions = floor(unit->use_s / unit->session_s) + 1;
	const double cycles = unit->cycle_s > 0 ? ceil(unit->session_s / unit->cycle_s) : 1;
	unit->most_switches = (size_t)(2 * sessions * (cycles + 3));
}

/* The measure of discomfort, docs/method.md: so much at middling priority; kept longest counts 1.8
 * times as much, dropped first a fifth. */
static const double POINTS_PER_DROP = 0.1, POINTS_PER_LOST_H = 4.0;

double shed_weight_of(const rig_coach *coach, int load)
{
	return (10 - shed_priority_of(coach, load)) / 5.0;
}

static void place_on_hots(shed_unit *unit, double amps_a, double power_factor, int hot)
{
	const rig_phasor amps = rig_phasor_of(amps_a * power_factor, power_factor);
	for (int h = 0; h < RIG_SHED_MAX_HOTS; h++)
		if (hot < 0 || hot == h)
			unit->hot[h] = (shed_amps){amps.active_w, amps.reactive_va};
}

static int leg_of(const rig_coach *coach, int circuit)
{
	if (circuit < 0 || circuit >= (int)coach->n_circuits)
		return RIG_LEG_UNSAID;
	return (int)coach->circuits[circuit].leg;
}

/* A load that is not dead as a unit, its hot still to be found: the hot of the findings is 0 or 1,
 * -1 for both, or -2 where nobody says. */
enum { HOT_BOTH = -1, HOT_UNSAID = -2 };

static int hot_of(const rig_shed_findings *findings, int circuit, bool two_hots)
{
	if (two_hots)
		return HOT_BOTH;
	if (findings->n_hots == 1)
		return 0;
	const int leg = leg_of(findings->coach, circuit);
	return leg == RIG_LEG_1 ? 0 : leg == RIG_LEG_2 ? 1 : HOT_UNSAID;
}

static void place(rig_shed_findings *findings, size_t i, shed_unit *unit, double power_factor)
{
	rig_shed_load *load = &findings->loads[i];
	place_on_hots(unit, load->amps_a, power_factor, load->hot);
}

static rig_status add_load(rig_shed_findings *findings, shed_model *model, int index)
{
	const rig_coach *coach = findings->coach;
	const rig_load *load = &coach->loads[index];
	if (load->supply == RIG_DC)
		return RIG_OK;
	if (!load_is_sound(load))
		return RIG_BAD_INPUT;
	const int end = findings->options.end;
	const shed_climate climate = shed_climate_of(&findings->options);
	const shed_class class = shed_class_of(load);
	const use_of_load use = use_of(coach, index, findings->options.habit);
	const double volts_v = shed_end_of(load->volts_v, 0, HOT_V);
	const double power_factor = shed_end_of(load->power_factor, -end, 1);
	const bool two_hots = volts_v > TWO_HOTS_ABOVE_V;
	const bool unfed = findings->inverter && load->inverter != RIG_YES;
	const size_t i = findings->n_loads++;
	const double watts_w = shed_end_of(load->running_w, end, 0) * count_of(load);
	findings->loads[i] = (rig_shed_load){.load = index,
		.id = load->id,
		.name = load->name,
		.behaviour = behaviour_of(load, &class, &use, &climate),
		.hot = hot_of(findings, load->circuit_index, two_hots),
		.dead = (two_hots && findings->n_hots == 1) ||
			(unfed && !findings->generator.auto_start),
		.unfed = unfed,
		.rank = -1,
		.watts_w = watts_w,
		.amps_a = watts_w / (volts_v * power_factor)};
	shed_unit *unit = &model->units[model->n_units++];
	*unit = (shed_unit){.load = index,
		.behaviour = findings->loads[i].dead ? RIG_SHED_IDLE : findings->loads[i].behaviour,
		.compressor = load->behaviour == RIG_COMPRESSOR,
		.no_inverter = unfed,
		.group = -1,
		.watts_w = watts_w,
		.body = -1,
		.drop_points = POINTS_PER_DROP,
		.key = key_of(load->id)};
	if (unit->behaviour == RIG_SHED_USED)
		plan_use(load, &class, &use, unit);
	if (unit->behaviour == RIG_SHED_USED || unit->behaviour == RIG_SHED_STEADY)
		unit->lost_points_s = POINTS_PER_LOST_H * shed_weight_of(coach, index) / HOUR_S;
	place(findings, i, unit, power_factor);
	return RIG_OK;
}

/* ---- the charger ---- */

/* As the shore study has it: 14.4 V for each 12 V of its bank, 85 %, power factor 0.8 (common
 * practice, no source). */
static const double CHARGE_V_PER_12_V = 14.4, CHARGER_FRAC = 0.85, CHARGER_POWER_FACTOR = 0.8;
/* Of a bank's capacity is put back while the current tapers: three chargers' manuals hold full
 * current to about 80 % (second-hand). */
static const double TAPER_FRAC = 0.2;
enum { N_TAPER = 6 };

static double charge_v(const rig_coach *coach, int bank)
{
	if (bank < 0 || bank >= (int)coach->n_banks)
		return CHARGE_V_PER_12_V;
	const double group_v = coach->banks[bank].kind ? coach->banks[bank].kind->cell_group_v : 12;
	const double bank_v = shed_end_of(coach->banks[bank].nominal_v, 0, group_v);
	return CHARGE_V_PER_12_V * fmax(1.0, round(bank_v / group_v));
}

static int house_bank(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_banks; i++)
		if (coach->banks[i].role != RIG_CHASSIS)
			return (int)i;
	return -1;
}

/* Mean watts of what draws on a bank, and so on its charger while it is plugged in. */
static double dc_w(const rig_shed_findings *findings, int bank)
{
	const rig_coach *coach = findings->coach;
	double sum_w = 0;
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		if (load->supply != RIG_DC || load->bank_index != bank)
			continue;
		double on_frac[24], hours = 0;
		(void)rig_load_hours(coach, (int)i, findings->options.habit, 0, on_frac);
		for (int hour = 0; hour < 24; hour++)
			hours += on_frac[hour];
		sum_w += shed_end_of(load->running_w, 0, 0) * count_of(load) * hours / DAY_H;
	}
	return sum_w;
}

/* The stages of a charger of so many watts at the bank. */
static void plan_stages(
	const rig_shed_findings *findings, int bank, double output_w, shed_model *model)
{
	const rig_shed_options *options = &findings->options;
	const double floats_w = fmin(output_w, dc_w(findings, bank));
	const rig_bank *filled = bank >= 0 ? &findings->coach->banks[bank] : NULL;
	const double usable_wh = filled ? shed_end_of(filled->usable_wh, 0, 0) : 0;
	const double total_wh = filled ? shed_end_of(filled->total_wh, 0, usable_wh) : 0;
	const double kept_frac = filled ? shed_end_of(filled->charge_efficiency_frac, 0, 1) : 1;
	shed_stages *stages = &model->stages;
	model->bank_w = output_w - floats_w;
	stages->n = 1;
	stages->level[0] = output_w > 0 ? floats_w / output_w : 0;
	if (usable_wh <= 0 || options->deficit_frac <= 0 || model->bank_w <= 0)
		return;
	model->charge_from_s = options->charge_from_hour * HOUR_S;
	model->most_wh = usable_wh / kept_frac;
	model->deficit_wh = options->deficit_frac * model->most_wh;
	model->taper_wh = TAPER_FRAC * total_wh / kept_frac;
	stages->n = N_TAPER + 2;
	stages->level[0] = 1;
	for (int k = 0; k < N_TAPER; k++)
		stages->level[k + 1] =
			(model->bank_w * (N_TAPER - k - 0.5) / N_TAPER + floats_w) / output_w;
	stages->level[N_TAPER + 1] = floats_w / output_w;
}

static rig_status add_charger(rig_shed_findings *findings, shed_model *model)
{
	const rig_coach *coach = findings->coach;
	const rig_charger *charger = &coach->charger;
	if (!charger->present || !rig_figure_given(charger->amps_a) ||
		(findings->inverter && !findings->generator.auto_start))
		return RIG_OK;
	if (!shed_in_order(charger->amps_a, 0, 1e6) ||
		!shed_in_order(charger->efficiency_frac, 0.01, 1) ||
		!shed_in_order(charger->power_factor, 0.01, 1))
		return RIG_BAD_INPUT;
	const int end = findings->options.end;
	const double efficiency_frac = shed_end_of(charger->efficiency_frac, -end, CHARGER_FRAC);
	const double power_factor = shed_end_of(charger->power_factor, -end, CHARGER_POWER_FACTOR);
	const double output_w =
		shed_end_of(charger->amps_a, end, 0) * charge_v(coach, charger->bank_index);
	const double watts_w = output_w / efficiency_frac;
	const size_t i = findings->n_loads++;
	findings->loads[i] = (rig_shed_load){.load = RIG_SHED_CHARGER,
		.behaviour = RIG_SHED_CHARGES,
		.hot = hot_of(findings, charger->circuit_index, false),
		.unfed = findings->inverter,
		.rank = -1,
		.watts_w = watts_w,
		.amps_a = watts_w / (HOT_V * power_factor)};
	model->units[model->n_units++] = (shed_unit){.load = RIG_SHED_CHARGER,
		.behaviour = RIG_SHED_CHARGES,
		.no_inverter = findings->inverter,
		.group = -1,
		.watts_w = watts_w,
		.body = -1};
	place(findings, i, &model->units[i], power_factor);
	plan_stages(findings, charger->bank_index, output_w, model);
	return RIG_OK;
}

/* Without a charger of the coach, a load that is one sets the stages. */
static void plan_load_stages(rig_shed_findings *findings, shed_model *model)
{
	for (size_t u = 0; u < model->n_units && model->stages.n == 0; u++)
		if (model->units[u].behaviour == RIG_SHED_CHARGES)
			plan_stages(findings, house_bank(findings->coach),
				model->units[u].watts_w * CHARGER_FRAC, model);
}

/* ---- legs and groups ---- */

static double total_a(const rig_shed_findings *findings, int hot)
{
	double sum_a = 0;
	for (size_t i = 0; i < findings->n_loads; i++)
		if (findings->loads[i].hot == hot || findings->loads[i].hot == HOT_BOTH)
			sum_a += findings->loads[i].amps_a;
	return sum_a;
}

/* Loads whose leg nobody says go to the emptier leg, the largest first. */
static void deal_unplaced(rig_shed_findings *findings, shed_model *model)
{
	for (;;) {
		size_t largest = findings->n_loads;
		for (size_t i = 0; i < findings->n_loads; i++)
			if (findings->loads[i].hot == HOT_UNSAID &&
				(largest == findings->n_loads ||
					findings->loads[i].amps_a >
						findings->loads[largest].amps_a))
				largest = i;
		if (largest == findings->n_loads)
			return;
		rig_shed_load *load = &findings->loads[largest];
		load->hot = total_a(findings, 0) <= total_a(findings, 1) ? 0 : 1;
		findings->notes |= RIG_SHED_UNPLACED;
		shed_unit *unit = &model->units[largest];
		unit->hot[load->hot] = unit->hot[0]; /* place_on_hots has filled both or none */
		unit->hot[1 - load->hot] = (shed_amps){0, 0};
	}
}

static void add_group(rig_shed_findings *findings, shed_model *model, size_t u)
{
	model->units[u].group = (int)model->n_groups;
	model->group_unit[model->n_groups] = u;
	findings->loads[u].rank = (int)model->n_groups++;
}

static bool usually_dropped(const rig_coach *coach, int index)
{
	enum { DROPPED_FROM = 7 };
	const rig_load *load = &coach->loads[index];
	return load->appliance ? load->appliance->shed_first
			       : shed_priority_of(coach, index) >= DROPPED_FROM;
}

/* Whether unit a is dropped before unit b where the file gives no order. */
static bool before(const rig_shed_findings *findings, size_t a, size_t b)
{
	const rig_shed_load *x = &findings->loads[a], *y = &findings->loads[b];
	const int first = shed_priority_of(findings->coach, x->load);
	const int second = shed_priority_of(findings->coach, y->load);
	return first != second ? first > second : x->watts_w > y->watts_w;
}

static rig_status group_by_priority(rig_shed_findings *findings, shed_model *model)
{
	for (;;) {
		size_t next = findings->n_loads;
		for (size_t u = 0; u < findings->n_loads; u++) {
			const rig_shed_load *load = &findings->loads[u];
			if (load->load < 0 || load->dead || model->units[u].group >= 0 ||
				!usually_dropped(findings->coach, load->load))
				continue;
			if (next == findings->n_loads || before(findings, u, next))
				next = u;
		}
		if (next == findings->n_loads)
			return RIG_OK;
		if (model->n_groups == SHED_MAX_GROUPS)
			return RIG_BAD_INPUT;
		add_group(findings, model, next);
	}
}

static rig_status group_by_order(rig_shed_findings *findings, shed_model *model)
{
	const rig_energy_management *em = &findings->coach->energy_management;
	for (size_t i = 0; i < em->n_order; i++)
		for (size_t u = 0; u < findings->n_loads; u++) {
			const rig_shed_load *load = &findings->loads[u];
			if (!load->id || strcmp(load->id, em->order[i]) != 0 || load->dead ||
				model->units[u].group >= 0)
				continue;
			if (model->n_groups == SHED_MAX_GROUPS)
				return RIG_BAD_INPUT;
			add_group(findings, model, u);
		}
	return RIG_OK;
}

/* ---- volts ---- */

static rig_feed_place place_of(const rig_shed_findings *findings, const rig_shed_load *load)
{
	if (findings->n_hots == 1 || load->hot == 0)
		return RIG_ON_LEG_1;
	return load->hot == HOT_BOTH ? RIG_ACROSS_LEGS : RIG_ON_LEG_2;
}

/* How each unit answers to its volts, and what it draws at the nominal ones. */
static void answer_to_volts(rig_shed_findings *findings, shed_model *model)
{
	static const double ACROSS_V = 240.0;
	static const double BELOW_RATED = 0.9; /* where volts matter */
	const rig_coach *coach = findings->coach;
	const int end = findings->options.end;
	for (size_t u = 0; u < findings->n_loads; u++) {
		const rig_shed_load *load = &findings->loads[u];
		shed_unit *unit = &model->units[u];
		const bool charger = load->load == RIG_SHED_CHARGER;
		const rig_load *of = charger ? NULL : &coach->loads[load->load];
		const double rated_v = charger ? HOT_V : shed_end_of(of->volts_v, 0, HOT_V);
		const double power_factor = charger ? shed_end_of(coach->charger.power_factor, -end,
							      CHARGER_POWER_FACTOR)
						    : shed_end_of(of->power_factor, -end, 1);
		unit->place = place_of(findings, load);
		model->draws_across |= unit->place == RIG_ACROSS_LEGS;
		unit->response = rig_feed_response(coach, charger ? RIG_SHORE_CHARGER : load->load);
		const double nominal_v = unit->place == RIG_ACROSS_LEGS ? ACROSS_V : HOT_V;
		const double n = rig_feed_exponent(unit->response, BELOW_RATED);
		unit->draw = rig_phasor_scale(
			rig_phasor_of(load->watts_w, power_factor), pow(nominal_v / rated_v, n));
	}
}

static rig_status find_feed(rig_shed_findings *findings, shed_model *model)
{
	const rig_coach *coach = findings->coach;
	if (!findings->pedestal || !rig_figure_given(coach->pedestal_open_v) ||
		!rig_figure_given(coach->source_ohm) || !rig_figure_given(coach->cord_length_m))
		return RIG_OK;
	if (!rig_feed_is_sound(coach))
		return RIG_BAD_INPUT;
	const rig_shore_supply supply = rig_shore_supply_of(coach, findings->pedestal);
	const rig_feed_ends likely = rig_feed_likely();
	findings->has_volts = model->has_volts = true;
	findings->path = rig_feed_path(coach, &supply);
	model->feed = rig_feed_of(&findings->path, &supply, &likely);
	answer_to_volts(findings, model);
	return RIG_OK;
}

/* ---- the whole ---- */

shed_climate shed_climate_of(const rig_shed_options *options)
{
	static const double COOLS_ABOVE_C = 26, HEATS_BELOW_C = 10;
	switch (options->weather) {
	case RIG_SHED_HOT:
		return (shed_climate){22, 38, true, false};
	case RIG_SHED_MILD:
		return (shed_climate){10, 22, false, false};
	case RIG_SHED_COLD:
		return (shed_climate){-7, 4, false, true};
	case RIG_SHED_OWN:
		break;
	}
	const bool cools = options->high_c > COOLS_ABOVE_C;
	return (shed_climate){
		options->low_c, options->high_c, cools, !cools && options->low_c < HEATS_BELOW_C};
}

/* Days differ by so much (common practice, no source). */
static const double SPREAD_K = 2.0;

static void set_weather(rig_shed_findings *findings, shed_model *model)
{
	const shed_climate climate = shed_climate_of(&findings->options);
	findings->low_c = model->low_c = climate.low_c;
	findings->high_c = model->high_c = climate.high_c;
	model->spread_k = SPREAD_K;
}

static void note_dead(rig_shed_findings *findings)
{
	for (size_t i = 0; i < findings->n_loads; i++)
		if (findings->loads[i].dead && !findings->loads[i].unfed)
			findings->notes |= RIG_SHED_HAS_DEAD;
}

rig_status shed_model_of(rig_arena *arena, rig_shed_findings *findings, shed_model *model)
{
	const rig_coach *coach = findings->coach;
	const size_t room = 2 * coach->n_loads + 2; /* charger, a furnace for each roof unit */
	*model = (shed_model){.units = rig_arena_take(arena, room, sizeof *model->units)};
	findings->loads = rig_arena_take(arena, room, sizeof *findings->loads);
	if (!model->units || !findings->loads)
		return RIG_NO_MEMORY;
	rig_status status = shed_find_supply(findings);
	if (status == RIG_OK)
		status = shed_find_manager(findings);
	for (size_t i = 0; status == RIG_OK && i < coach->n_loads; i++)
		status = add_load(findings, model, (int)i);
	if (status == RIG_OK)
		status = add_charger(findings, model);
	if (status != RIG_OK)
		return status;
	plan_load_stages(findings, model);
	deal_unplaced(findings, model);
	note_dead(findings);
	model->n_hots = findings->n_hots;
	model->manager = findings->manager;
	shed_plan_sources(findings, model);
	set_weather(findings, model);
	status = find_feed(findings, model);
	if (status == RIG_OK && findings->manager.present)
		status = findings->manager.own_order ? group_by_order(findings, model)
						     : group_by_priority(findings, model);
	return status == RIG_OK ? shed_bodies_of(arena, findings, model) : status;
}
